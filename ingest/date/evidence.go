package date

// Evidence gathers what the dates of a column, or of a source and its sister
// files, say about the order of day, month and year. The zero Evidence is
// empty and ready.
type Evidence struct {
	Dates   int // texts that are dates in at least one order
	Clocks  int // times of day alone
	Serials int // numbers that would be spreadsheet dates from 1990 to 2100
	Unix    int // Unix times from 1990 to 2100
	Other   int // none of these; blanks are not counted

	no [4]int // by Order: dates that do not fit it
}

// Add takes one text into account.
func (e *Evidence) Add(text string) {}

// Merge takes the evidence of o into account.
func (e *Evidence) Merge(o *Evidence) {}

// Orders returns the orders in which every date so far can be read, those that
// always mean the same days reduced to one; nil where there are none or no
// dates. One order: known. Several: ask.
func (e *Evidence) Orders() []Order { return nil }
