package rep

// Set is one set: a unit's reps under one number, what the hand log said of
// it, or a logged set that stands alone.
type Set struct {
	Lifter      string
	Date        Day
	Session     int32
	PerformedAt Null[Instant]
	Lift        string
	Variant     string
	Bar, Tether string
	Device      string
	LoadKg      Null[float64] // null only for a logged set without a load
	Number      Null[int32]   // set number in session and lift; null where no rep was kept
	Role        Role

	Reps     int32 // kept, missed ones included
	Missed   int32 // of those, missed
	SetAside int32

	// Speeds of the kept reps that were not missed, m/s: the first done, the
	// fastest, the last done, the slowest. Loss is (fastest − last)/fastest,
	// in [0,1]; null for a set of one.
	First, Fastest, Last, Slowest, Loss Null[float64]

	RPE     Null[float64]
	RPEFrom RPEFrom

	// Log is what the hand log said; nil where it said nothing.
	Log *Logged

	Rows   []int32 // kept rows of the Table in the order done; empty for a logged set alone
	Source string  // of the set's first rep or, alone, of the log
	Sheet  string
	Row    int32
}

// Logged is a hand log's account of one set.
type Logged struct {
	LoadKg                              Null[float64]
	Reps                                Null[int32]
	RPE, RPEHigh                        Null[float64]
	First, Fastest, Last, Slowest, Mean Null[float64] // m/s
	Text                                string
	Source, Sheet                       string
	Row, Part                           int32
}
