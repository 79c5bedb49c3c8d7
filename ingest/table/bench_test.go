package table

import (
	"archive/zip"
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"io/fs"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/xuri/excelize/v2"
)

// repRows writes rows as a unit exports them: about 100 bytes each.
func repRows(n int, quoted bool) []byte {
	var b strings.Builder
	b.WriteString("Date,Time,Athlete,Exercise,Load (lb),Set,Rep,Mean Velocity (m/s),Peak Velocity (m/s),ROM (cm),Note\n")
	name := "Ines Duarte"
	if quoted {
		name = `"Duarte, Ines"`
	}
	for i := range n {
		fmt.Fprintf(&b, "2026-%02d-%02d,18:%02d:%02d,%s,squat,%d.5,%d,%d,0.%03d,0.%03d,5%d.%d,\n",
			i/50000%12+1, i/2000%28+1, i/60%60, i%60, name, 200+i%200, i/5%9+1, i%5+1, 300+i%500, 500+i%400, i%9, i%10)
	}
	return []byte(b.String())
}

func BenchmarkText(b *testing.B) {
	for _, quoted := range []bool{false, true} {
		for _, size := range []int{1e4, 1e6} {
			if size > 1e5 && testing.Short() {
				continue
			}
			data := repRows(size, quoted)
			fsys := fstest.MapFS{"a.csv": {Data: data, Mode: fs.ModePerm}}
			b.Run(fmt.Sprintf("quoted=%v/size=%d", quoted, size), func(b *testing.B) {
				b.SetBytes(int64(len(data)))
				b.ReportAllocs()
				for b.Loop() {
					f, err := Open(fsys, "a.csv", Options{})
					if err != nil {
						b.Fatal(err)
					}
					n := 0
					for row, err := range f.Sheets[0].Rows() {
						if err != nil {
							b.Fatal(err)
						}
						n += len(row.Cells)
					}
					if n != 11*(size+1) {
						b.Fatal("cells lost:", n)
					}
				}
				b.ReportMetric(float64(size)*float64(b.N)/b.Elapsed().Seconds(), "rows/s")
			})
		}
	}
}

// BenchmarkEncodingCSV is what BenchmarkText is held against.
func BenchmarkEncodingCSV(b *testing.B) {
	const size = 1e6
	data := string(repRows(size, false))
	b.SetBytes(int64(len(data)))
	for b.Loop() {
		r := csv.NewReader(strings.NewReader(data))
		r.ReuseRecord = true
		for {
			if _, err := r.Read(); err == io.EOF {
				break
			} else if err != nil {
				b.Fatal(err)
			}
		}
	}
	b.ReportMetric(size*float64(b.N)/b.Elapsed().Seconds(), "rows/s")
}

func BenchmarkOpenAndLayout(b *testing.B) {
	data := repRows(2000, false)
	fsys := fstest.MapFS{"a.csv": {Data: data}}
	for b.Loop() {
		f, err := Open(fsys, "a.csv", Options{})
		if err != nil {
			b.Fatal(err)
		}
		if _, err := f.Sheets[0].Layout(); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkLayout recognises the tables of 100,000 rows, all of which are looked
// at.
func BenchmarkLayout(b *testing.B) {
	const size = 100_000
	data := repRows(size, false)
	f, err := Open(fstest.MapFS{"a.csv": {Data: data}}, "a.csv", Options{})
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := f.Sheets[0].source.recognise(&firstRows{}); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(b.Elapsed().Seconds()/float64(b.N)/size*1e9, "ns/row")
}

// bigBook makes a workbook of n rows of ten cells.
func bigBook(t testing.TB, n int) []byte {
	t.Helper()
	f := excelize.NewFile()
	defer f.Close()
	w, err := f.NewStreamWriter("Sheet1")
	if err != nil {
		t.Fatal(err)
	}
	day, _ := f.NewStyle(&excelize.Style{NumFmt: 14})
	w.SetRow("A1", []any{"Day", "Lifter", "Lift", "Load", "Set", "Rep", "Mean", "Peak", "Travel", "Note"})
	for i := range n {
		cell, _ := excelize.CoordinatesToCellName(1, i+2)
		err := w.SetRow(cell, []any{excelize.Cell{StyleID: day, Value: 46000 + i/100}, fmt.Sprint("Lifter ", i%40), "squat", 100 + float64(i%90)*2.5,
			i/5%9 + 1, i%5 + 1, float64(300+i%500) / 1000, float64(500+i%400) / 1000, 0.55, fmt.Sprint("note ", i%7)})
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Flush(); err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := f.Write(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func BenchmarkWorkbook(b *testing.B) {
	const size = 200_000
	content := bigBook(b, size)
	b.Run("ours", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			n := 0
			for _, err := range open(b, content).Sheets[0].Rows() {
				if err != nil {
					b.Fatal(err)
				}
				n++
			}
			if n != size+1 {
				b.Fatal(n)
			}
		}
		b.ReportMetric(float64(size)*float64(b.N)/b.Elapsed().Seconds(), "rows/s")
	})
	b.Run("library", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			f, err := excelize.OpenReader(bytes.NewReader(content), excelize.Options{RawCellValue: true})
			if err != nil {
				b.Fatal(err)
			}
			rows, err := f.Rows("Sheet1")
			if err != nil {
				b.Fatal(err)
			}
			for rows.Next() {
				if _, err := rows.Columns(); err != nil {
					b.Fatal(err)
				}
			}
			f.Close()
		}
		b.ReportMetric(float64(size)*float64(b.N)/b.Elapsed().Seconds(), "rows/s")
	})
}

func zipOf(t testing.TB, files map[string]string) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for name, content := range files {
		w, err := z.Create(name)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := io.WriteString(w, content); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}
