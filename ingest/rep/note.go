package rep

// SetNote is a row of a hand log that holds a set but no rep speeds. Cleaning
// joins it to the unit's set it belongs to, or lets it stand alone.
type SetNote struct {
	Lifter       string
	Date         Day
	PerformedAt  Null[Instant]
	Lift         string
	Variant      string
	Bar, Tether  string
	LoadKg       Null[float64]
	LoadStep     float64     // size of the last written digit, kg
	Sets         int32       // how many equal sets the row stands for; 1 unless written "3x5"
	SetRecorded  Null[int32] // set number as logged
	Reps         Null[int32] // reps done in each set
	MissedReps   int32       // of them, failed
	RPE, RPEHigh Null[float64]
	// Speeds of the set as logged, m/s.
	First, Fastest, Last, Slowest, Mean Null[float64]

	Text   string // the shorthand or note as written
	Source string
	Sheet  string
	Row    int32
	Part   int32 // 1, 2, … where one row holds several notes ("60, 100, 140x3")
}

// Place returns where the note stands.
func (n *SetNote) Place() Place { return Place{Source: n.Source, Sheet: n.Sheet, Row: n.Row} }
