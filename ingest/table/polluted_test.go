package table

import (
	"encoding/csv"
	"fmt"
	"strings"
	"testing"
	"testing/fstest"
)

// clean is a table whose cells hold all that quotes are for.
const cleanTable = `Date,Time,Set,Unit,Load,Lift,Note,Link,Remark
25/01/2026,09:19:00,1,ID 1,"1,000.50",squat,"belt, ""12"" wide",harbour/a?b=1&c=2,
26/01/2026,10:20:00,2,ID 2,20.50,bench press,wooden board,harbour/b,nice
27/01/2026,11:21:00,3,ID 3,30.00,bench press,"grip, wide",harbour/c,"two
lines"
28/01/2026,12:22:00,4,ID 4,40.25,deadlift,straps,harbour/d,
29/01/2026,13:23:00,5,ID 5,50.75,deadlift,"sumo 5s","harbour/e","ok, fine"
30/01/2026,14:24:00,6,ID 6,60.00,squat,sleeves,harbour/f,
31/01/2026,15:25:00,7,ID 7,70.10,squat,"so ""fine""",harbour/g,sharp
01/02/2026,16:26:00,8,ID 8,80.20,squat,chalk,harbour/h,
`

// TestPollutedRow damages one row in each way at each cell: a quote too many at
// the beginning, in the middle, at the end or instead of a cell, a delimiter
// too many or too few, other delimiters. All other rows have to be read as if
// nothing had happened, and with a quote too many the damaged row keeps its
// number of cells. The kinds of damage are those of the Pollock benchmark: G.
// Vitagliano et al., Pollock: a data loading benchmark, PVLDB 16 (2023).
func TestPollutedRow(t *testing.T) {
	rows, err := csv.NewReader(strings.NewReader(cleanTable)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	total, torn := 0, 0
	for k := 1; k < len(rows); k++ {
		for col := range rows[k] {
			for _, damage := range []string{"quote before", "quote within", "quote after", "quote alone", "delimiter more", "delimiter less", "semicolons", "tabs"} {
				content := polluted(rows, k, col, damage)
				got, delimiter := readRows(t, content)
				if delimiter != "," {
					t.Fatalf("%s at row %d, column %d: delimiter %q", damage, k, col, delimiter)
				}
				from := len(got) - len(rows)
				for i := range rows {
					at := i
					if i > k {
						at += from
					}
					if i != k && (at >= len(got) || fmt.Sprint(got[at]) != fmt.Sprint(rows[i])) {
						t.Fatalf("%s at row %d, column %d: row %d is another:\n%s", damage, k, col, i, content)
					}
				}
				if strings.HasPrefix(damage, "quote") {
					total++
					if len(got) != len(rows) || len(got[k]) != len(rows[k]) {
						torn++
					}
				}
			}
		}
	}
	if torn > 3 {
		t.Errorf("%d of %d rows with a quote too many lost or won cells", torn, total)
	}
}

// polluted writes the rows with one damaged at a cell.
func polluted(rows [][]string, k, col int, damage string) string {
	var b strings.Builder
	for i, row := range rows {
		cells := make([]string, len(row))
		for c, s := range row {
			if cells[c] = s; strings.ContainsAny(s, "\",\n") {
				cells[c] = `"` + strings.ReplaceAll(s, `"`, `""`) + `"`
			}
		}
		delimiter := ","
		if i == k {
			half := len(cells[col]) / 2
			switch damage {
			case "quote before":
				cells[col] = `"` + cells[col]
			case "quote within":
				cells[col] = cells[col][:half] + `"` + cells[col][half:]
			case "quote after":
				cells[col] += `"`
			case "quote alone":
				cells[col] = `"`
			case "delimiter more":
				cells[col] += ","
			case "delimiter less":
				if col+1 < len(cells) {
					cells[col+1] = cells[col] + cells[col+1]
					cells = append(cells[:col:col], cells[col+1:]...)
				}
			case "semicolons":
				delimiter = ";"
			case "tabs":
				delimiter = "\t"
			}
		}
		b.WriteString(strings.Join(cells, delimiter) + "\n")
	}
	return b.String()
}

func readRows(t *testing.T, content string) (rows [][]string, delimiter string) {
	t.Helper()
	f, err := Open(fstest.MapFS{"a.csv": {Data: []byte(content)}}, "a.csv", Options{})
	if err != nil {
		t.Fatal(err)
	}
	for row, err := range f.Sheets[0].Rows() {
		if err != nil {
			t.Fatal(err)
		}
		var cells []string
		for _, c := range row.Cells {
			cells = append(cells, c.Text)
		}
		rows = append(rows, cells)
	}
	return rows, f.Delimiter
}
