package text

import (
	"fmt"
	"io"
	"math/rand/v2"
	"strings"
	"testing"
	"testing/iotest"

	"repsift/ingest/table/cell"
)

// rowsOf returns the rows of a text as text, one a line.
func rowsOf(t *testing.T, r io.Reader, d Dialect, size int) string {
	t.Helper()
	var b strings.Builder
	bl := blocks{r: r, d: d, line: 1, size: size}
	for {
		block, ok := bl.next()
		if !ok {
			break
		}
		for row := range block.Rows(d) {
			fmt.Fprintf(&b, "%d+%d", row.Line, row.Lines)
			for _, c := range row.Cells {
				fmt.Fprintf(&b, " %q", c.Text)
			}
			if row.Err != nil {
				b.WriteString(" !")
			}
			b.WriteString("\n")
		}
	}
	if bl.err != io.EOF {
		t.Fatal(bl.err)
	}
	return b.String()
}

// TestBlocks reads random texts in blocks of many sizes, by readers that give
// little at a time: the rows are always the same.
func TestBlocks(t *testing.T) {
	pieces := []string{"a", "bc", `"`, `""`, "\n", "\r\n", "\r", ",", ",", "\n", "1.5", `,"x`, `y",`, " ", "\r\r\n", `\"`}
	for seed := range uint64(400) {
		r := rand.New(rand.NewPCG(seed, 3))
		var b strings.Builder
		for range 1 + r.IntN(120) {
			b.WriteString(pieces[r.IntN(len(pieces))])
		}
		text := b.String()
		d := Dialect{Delimiter: ",", Quote: '"', Escape: '"', Width: r.IntN(4)}
		if r.IntN(4) == 0 {
			d.Escape = '\\'
		}
		want := rowsOf(t, strings.NewReader(text), d, 1<<20)
		for _, size := range []int{1, 2, 3, 7, 16, 50} {
			if got := rowsOf(t, iotest.HalfReader(strings.NewReader(text)), d, size); got != want {
				t.Fatalf("seed %d, blocks of %d: %q gives\n%s\nwant\n%s", seed, size, text, got, want)
			}
		}
	}
}

// TestLongLines reads a line that is too long: it is broken, and the lines
// around it are read.
func TestLongLines(t *testing.T) {
	long := strings.Repeat("abc,", MaxLine)
	for _, lineEnd := range []string{"\n", "\r\n", "\r"} {
		text := "a,b" + lineEnd + "1,2" + lineEnd + long + lineEnd + "3,4" + lineEnd
		var lines []string
		for b, err := range Blocks(strings.NewReader(text), Dialect{Delimiter: ",", Quote: '"'}, Large) {
			if err != nil {
				t.Fatal(err)
			}
			for row := range b.Rows(Dialect{Delimiter: ",", Quote: '"'}) {
				lines = append(lines, fmt.Sprintf("%d:%d:%v", row.Line, len(row.Cells), row.Err != nil))
			}
		}
		if got, want := strings.Join(lines, " "), "1:2:false 2:2:false 3:1:true 4:2:false"; got != want {
			t.Errorf("line end %q: %s, want %s", lineEnd, got, want)
		}
	}
}

// TestManyColumns reads a row of a million cells: it is broken, and the rest is
// read.
func TestManyColumns(t *testing.T) {
	text := "a,b\n" + strings.Repeat(",", 1_000_000) + "\n1,2\n"
	s := Dialect{Delimiter: ",", Quote: '"'}.Scan(text, 1)
	var row cell.Row
	var got []string
	for s.Next(&row) {
		got = append(got, fmt.Sprint(len(row.Cells), " ", row.Err))
	}
	want := []string{"2 <nil>", "32768 more than 32768 cells in a row, which no table has; the row is left out: see whether its delimiter or line ends are damaged", "2 <nil>"}
	if fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("%q", got)
	}
}

// TestUnclosedFar reads a quote that is not closed for more than the limit of a
// row: the lines after it are rows of their own.
func TestUnclosedFar(t *testing.T) {
	n := 2*MaxLine/8 + 10
	text := "a,b\n1,\"x\n" + strings.Repeat("123,456\n", n) + "7,\"8\"\n"
	rows, broken := 0, 0
	for b, err := range Blocks(strings.NewReader(text), Dialect{Delimiter: ",", Quote: '"', Escape: '"', Width: 3}, Large) {
		if err != nil {
			t.Fatal(err)
		}
		for row := range b.Rows(Dialect{Delimiter: ",", Quote: '"', Escape: '"', Width: 3}) {
			rows++
			if row.Err != nil {
				broken++
			}
		}
	}
	if rows != n+3 || broken != 1 {
		t.Errorf("%d rows, %d broken", rows, broken)
	}
}

func TestReadError(t *testing.T) {
	var got []string
	for b, err := range Blocks(io.MultiReader(strings.NewReader("a,b\n1,2\n"), iotest.ErrReader(io.ErrClosedPipe)), Dialect{Delimiter: ","}, Small) {
		got = append(got, fmt.Sprintf("%q %v", b.Text, err))
	}
	if want := `["a,b\n1,2\n" <nil>] ["" io: read/write on closed pipe]`; fmt.Sprintf("[%s] [%s]", got[0], got[1]) != want {
		t.Errorf("%s", got)
	}
}

func BenchmarkScan(b *testing.B) {
	for name, line := range map[string]string{
		"plain":  "2026-03-04,18:05:10,Ines Duarte,squat,180.5,1,3,0.412,0.655,55.2,\n",
		"quoted": "2026-03-04,18:05:10,\"Duarte, Ines\",squat,180.5,1,3,0.412,0.655,55.2,\n",
	} {
		text := strings.Repeat(line, 10000)
		d := Dialect{Delimiter: ",", Quote: '"', Escape: '"', Width: 11}
		b.Run("row="+name, func(b *testing.B) {
			b.SetBytes(int64(len(text)))
			var row cell.Row
			for b.Loop() {
				for s := d.Scan(text, 1); s.Next(&row); {
				}
			}
		})
	}
}
