package rep

import "fmt"

// Ledger counts what became of one source. Reading fills the first block,
// cleaning the second; [Ledger.Balance] holds at the end of every run.
type Ledger struct {
	Source string `json:"source"`
	SHA256 string `json:"sha256"`

	Rows     int `json:"rows"`
	RepRows  int `json:"rep_rows"`  // rows that gave at least one rep
	SetNotes int `json:"set_notes"` // rows that gave logged sets and no rep
	Unread   int `json:"unread"`    // rows lost whole
	NotData  int `json:"not_data"`  // headings, blanks, totals, trace samples
	Reps     int `json:"reps_read"` // a row of five reps counts five; a trace yields reps

	Kept     int `json:"kept"`
	SetAside int `json:"set_aside"`
	Joined   int `json:"joined"` // note rows with a set joined to a unit's set
	Alone    int `json:"alone"`  // note rows without
}

// Balance returns an error that names the first sum that does not add up.
func (l Ledger) Balance() error {
	if got := l.RepRows + l.SetNotes + l.Unread + l.NotData; got != l.Rows {
		return fmt.Errorf("%s: %d rows, but %d rep rows + %d set notes + %d unread + %d not data = %d",
			l.Source, l.Rows, l.RepRows, l.SetNotes, l.Unread, l.NotData, got)
	}
	if got := l.Kept + l.SetAside; got != l.Reps {
		return fmt.Errorf("%s: %d reps read, but %d kept + %d set aside = %d", l.Source, l.Reps, l.Kept, l.SetAside, got)
	}
	if got := l.Joined + l.Alone; got != l.SetNotes {
		return fmt.Errorf("%s: %d set notes, but %d joined + %d alone = %d", l.Source, l.SetNotes, l.Joined, l.Alone, got)
	}
	return nil
}

// Batch is what reading hands to cleaning: everything the sources held.
type Batch struct {
	Reps   *Table
	Notes  []SetNote // ordered by source, sheet, row, part
	Unread []Unread  // ordered by place
	Ledger []Ledger  // one a source, ordered by source
}
