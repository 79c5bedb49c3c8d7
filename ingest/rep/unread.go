package rep

// Lost says how much of the data an unread line takes away.
type Lost uint8

// What can be lost.
const (
	LostRow  Lost = iota // the whole row: no rep, no set note came of it
	LostCell             // one cell: the row stays, the field is null
)

// String returns the value as written in the lost column of unread.csv.
func (l Lost) String() string { return [...]string{"row", "cell"}[l] }

// Unread is something a source held that could not be read.
type Unread struct {
	Lost Lost
	Place
	Text    string // as written
	Problem string // what is wrong and what to do, one sentence
}

// String returns place and problem as one line.
func (u Unread) String() string { return u.Place.String() + ": " + u.Problem }
