package table

import (
	"archive/zip"
	"bytes"
	"compress/gzip"
	"fmt"
	"io"
	"io/fs"
	"runtime"
	"testing"
	"testing/fstest"
	"time"
)

func packed(t *testing.T, write func(io.Writer)) []byte {
	t.Helper()
	var b bytes.Buffer
	z := gzip.NewWriter(&b)
	write(z)
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestGzip(t *testing.T) {
	content := packed(t, func(w io.Writer) { io.WriteString(w, "Set;Load\n1;180\n2;182,5\n") })
	f, err := Open(fstest.MapFS{"a.csv.gz": {Data: content}}, "a.csv.gz", Options{})
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	l, err := f.Sheets[0].Layout()
	if err != nil {
		t.Fatal(err)
	}
	if err := WriteCells(&b, f.Sheets[0], l); err != nil || b.String() != "Set,Load\r\n1,180\r\n2,\"182,5\"\r\n" {
		t.Errorf("%q, %v", b.String(), err)
	}

	// A workbook that is packed once more.
	content = packed(t, func(w io.Writer) { w.Write(bigBook(t, 3)) })
	f, err = Open(fstest.MapFS{"a.xlsx.gz": {Data: content}}, "a.xlsx.gz", Options{})
	if err != nil || f.Format != "xlsx" || len(grid(t, f.Sheets[0])) == 0 {
		t.Errorf("%+v, %v", f, err)
	}

	// Cut off in the middle.
	long := packed(t, func(w io.Writer) { w.Write(repRows(30000, false)) })
	f, err = Open(fstest.MapFS{"a.gz": {Data: long[:len(long)/2]}}, "a.gz", Options{})
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	var last error
	for _, err := range f.Sheets[0].Rows() {
		n, last = n+1, err
	}
	if n < 1000 || last == nil || last.Error() != "a.gz: the packed file is damaged or cut off; copy or export it again" {
		t.Errorf("%d rows, then %v", n, last)
	}
}

// TestBombs reads files that are made to fill a machine: each gives an error.
func TestBombs(t *testing.T) {
	if testing.Short() {
		t.Skip("packs 160 MB")
	}
	zeros := bytes.Repeat([]byte("0,0\n"), 1<<18)
	content := packed(t, func(w io.Writer) {
		for range 160 {
			w.Write(zeros)
		}
	})
	f, err := Open(fstest.MapFS{"a.gz": {Data: content}}, "a.gz", Options{})
	if err != nil {
		t.Fatal(err)
	}
	var last error
	for _, err := range f.Sheets[0].Rows() {
		last = err
	}
	if last == nil || last.Error() != "a.gz: unpacks to more than 400 times its size, which no table does; unpack it by hand if it is one" {
		t.Errorf("gzip: %v", last)
	}

	// A sheet that says it unpacks to a terabyte.
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	w, err := z.Create("xl/workbook.xml")
	if err != nil {
		t.Fatal(err)
	}
	io.WriteString(w, `<workbook><sheets><sheet name="Log"/></sheets></workbook>`)
	h := &zip.FileHeader{Name: "xl/worksheets/sheet1.xml", Method: zip.Deflate, CompressedSize64: 4, UncompressedSize64: 1 << 40}
	if w, err = z.CreateRaw(h); err != nil {
		t.Fatal(err)
	}
	io.WriteString(w, "abcd")
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	f = open(t, b.Bytes())
	for _, err := range f.Sheets[0].Rows() {
		last = err
	}
	if want := "a.xlsx: the part xl/worksheets/sheet1.xml unpacks to 1048576 MB, which no workbook needs; split the workbook"; last == nil || last.Error() != want {
		t.Errorf("workbook: %v", last)
	}
}

// TestLarge reads a text that is too large to be looked at whole: memory stays
// flat, the table is open at its end, and headings that come again are told.
func TestLarge(t *testing.T) {
	rows := repRows(260_000, false)
	heading, _, _ := bytes.Cut(rows, []byte("\n"))
	content := append(rows, heading...)
	content = append(content, "\n2026-03-04,18:00:00,Ines Duarte,squat,180,1,1,0.41,0.6,55,\nTotal,,,,,,260001,,,,\n"...)
	if len(content) < HeadBytes {
		t.Fatal("not large enough")
	}
	f, err := Open(fstest.MapFS{"a.csv": {Data: content}}, "a.csv", Options{})
	if err != nil {
		t.Fatal(err)
	}
	s := f.Sheets[0]
	l, err := s.Layout()
	if err != nil || len(l.Tables) != 1 {
		t.Fatal(l, err)
	}
	r := &l.Tables[0]
	if r.FirstData != 2 || r.LastData != 0 || fmt.Sprint(r.HeadingRows) != "[1]" {
		t.Errorf("%+v", r)
	}
	var before, during runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	n, data, peak := 0, 0, uint64(0)
	for row, err := range s.Rows() {
		if err != nil {
			t.Fatal(err)
		}
		n++
		if r.Data(&row) {
			data++
		}
		if n%50_000 == 0 {
			runtime.GC()
			runtime.ReadMemStats(&during)
			peak = max(peak, during.HeapAlloc-min(during.HeapAlloc, before.HeapAlloc))
		}
	}
	if n != 260_004 || data != 260_001 {
		t.Errorf("%d rows, %d of data", n, data)
	}
	if peak > 8<<20 {
		t.Errorf("%d bytes in use while reading", peak)
	}
}

// TestLargeWorkbook streams 200,000 rows: memory does not grow with them.
func TestLargeWorkbook(t *testing.T) {
	if testing.Short() {
		t.Skip("writes a large workbook")
	}
	f := open(t, bigBook(t, 200_000))
	var before, during runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	n, peak := 0, uint64(0)
	for _, err := range f.Sheets[0].Rows() {
		if err != nil {
			t.Fatal(err)
		}
		if n++; n%50_000 == 0 {
			runtime.GC()
			runtime.ReadMemStats(&during)
			peak = max(peak, during.HeapAlloc-min(during.HeapAlloc, before.HeapAlloc))
		}
	}
	if n != 200_001 || peak > 16<<20 {
		t.Errorf("%d rows, %d bytes in use while reading", n, peak)
	}
	l, err := f.Sheets[0].Layout()
	if err != nil || len(l.Tables) != 1 || l.Tables[0].LastData != 200_001 {
		t.Errorf("%+v, %v", l, err)
	}
}

// failing is a file that breaks while it is read.
type failing struct{ fstest.MapFS }

func (f failing) Open(name string) (fs.File, error) {
	file, err := f.MapFS.Open(name)
	return &brokenFile{File: file}, err
}

type brokenFile struct {
	fs.File
	read int
}

func (b *brokenFile) Read(p []byte) (int, error) {
	if b.read > 200<<10 {
		return 0, &fs.PathError{Op: "read", Path: "disk", Err: io.ErrNoProgress}
	}
	n, err := b.File.Read(p[:min(len(p), 4096)])
	b.read += n
	return n, err
}

func TestDiskError(t *testing.T) {
	f, err := Open(failing{fstest.MapFS{"a.csv": {Data: repRows(10_000, false), ModTime: time.Time{}}}}, "a.csv", Options{})
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	var last error
	for _, err := range f.Sheets[0].Rows() {
		n, last = n+1, err
	}
	if n < 1000 || last == nil || last.Error() != "a.csv: read disk: multiple Read calls return no data or error" {
		t.Errorf("%d rows, then %v", n, last)
	}
	if _, err := f.Sheets[0].Layout(); err == nil {
		t.Error("a layout of a file that cannot be read")
	}
	if _, err := Open(fstest.MapFS{}, "missing.csv", Options{}); err == nil {
		t.Error("a file that is not there opens")
	}
}

// TestManyTables reads texts of very many tables, one below the other, and of
// very many blank columns: the time grows with their size and no faster.
func TestManyTables(t *testing.T) {
	var below, beside bytes.Buffer
	const tables = 20_000
	for i := range tables {
		fmt.Fprintf(&below, "Rep,Speed %d\n1,0.5\n2,0.4\n\n", i)
	}
	for row := range 2000 {
		for col := range 1000 {
			if col%2 == 0 {
				fmt.Fprintf(&beside, "%d", (row*7+col)%10)
			}
			beside.WriteByte(',')
		}
		beside.WriteByte('\n')
	}
	start := time.Now()
	for name, c := range map[string]struct {
		content       []byte
		tables, lines int
	}{"below": {below.Bytes(), tables, 4*tables - 1}, "beside": {beside.Bytes(), 1, 2000}} {
		f, err := Open(fstest.MapFS{"a.csv": {Data: c.content}}, "a.csv", Options{})
		if err != nil {
			t.Fatal(err)
		}
		l, err := f.Sheets[0].Layout()
		if err != nil || len(l.Tables) != c.tables {
			t.Fatalf("%s: %d tables, %v", name, len(l.Tables), err)
		}
		var b bytes.Buffer
		if err := WriteCells(&b, f.Sheets[0], l); err != nil {
			t.Fatal(err)
		}
		if n := bytes.Count(b.Bytes(), []byte("\n")); n != c.lines {
			t.Errorf("%s: %d lines, want %d", name, n, c.lines)
		}
		d, err := Describe(f)
		if err != nil || len(d.Sheets[0].Tables) != c.tables {
			t.Errorf("%s: %v", name, err)
		}
	}
	if took := time.Since(start); took > time.Minute {
		t.Errorf("read in %v", took)
	}
}

// TestTablesBeside writes tables that stand side by side, one after the other,
// although their rows come at once. The left one goes on below its headings.
func TestTablesBeside(t *testing.T) {
	f, err := Open(fstest.MapFS{"a.csv": {Data: []byte("Rep,Speed,,Rep,Speed\n1,0.5,,1,0.7\n2,0.4,,2,0.6\n3,0.3,,,\n\n\nRep,Speed,,,\n1,0.9,,,\n2,0.8,,,\n")}}, "a.csv", Options{})
	if err != nil {
		t.Fatal(err)
	}
	l, err := f.Sheets[0].Layout()
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := WriteCells(&b, f.Sheets[0], l); err != nil {
		t.Fatal(err)
	}
	if got, want := b.String(), "Rep,Speed\r\n1,0.5\r\n2,0.4\r\n3,0.3\r\n1,0.9\r\n2,0.8\r\n\r\nRep,Speed\r\n1,0.7\r\n2,0.6\r\n"; got != want {
		t.Errorf("%q\nwant %q", got, want)
	}
}
