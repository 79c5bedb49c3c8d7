package table

import (
	"encoding/csv"
	"fmt"
	"io"
	"io/fs"
	"strings"
	"testing"
	"testing/fstest"
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
