package main

import (
	"bytes"
	"context"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"runtime/metrics"
	"strings"
	"testing"
	"time"
	"unicode"
)

// huge is the size of inputs made to fill a machine. The figures in
// DEVELOPERS.md are with -huge 1024.
var huge = flag.Int64("huge", 8, "megabytes of hostile inputs that are large")

// What a run may take, whatever it is given: far more than it does on a machine
// that is not busy, so that only what is out of bounds fails.
const (
	mostBytes = 512 << 20
	mostTime  = 5 * time.Minute
)

// hostile is a case: a folder beside a good export, what tidy makes of it.
type hostile struct {
	name   string
	put    []put
	status int
	says   string // on the screen, blanks folded; "…" stands for anything
}

// put makes one thing in the input folder.
type put func(t *testing.T, in string)

const head = "date,lifter,lift,load (kg),set,rep,mean velocity (m/s),RPE,note\n"

const good = head + "2026-01-05,Ines Duarte,squat,100,1,1,0.52,7,\n2026-01-05,Ines Duarte,squat,100,1,2,0.50,7,\n2026-01-05,Ines Duarte,squat,100,1,3,0.49,7,\n"

// row is a line of a table with the headings of good.
const row = "2026-01-07,Vera Holm,squat,90,1,%d,%s,7,\n"

func rowsOf(speeds ...string) string {
	var b strings.Builder
	b.WriteString(head)
	for i, v := range speeds {
		fmt.Fprintf(&b, row, i+1, v)
	}
	return b.String()
}

// hostiles lists the cases; the flags are read by then.
func hostiles() []hostile {
	return []hostile{
		// Archives and workbooks that unpack to more than there is room for.
		{"gzip bomb", is(gzOf("x.csv.gz", around(good, repeat("\n", 80<<20), ""))), 3, "x.csv.gz: unpacks to more than 400 times its size"},
		{"zip bomb", is(zipOf("x.zip", entry{"x.csv", repeat("0,0\n", 80<<20)})), 3, "x.zip/x.csv: unpacks to 80 MB"},
		{"zip in a zip in a zip", is(nested("x.zip", 3)), 3, "x.zip/in.zip: an archive inside an archive; unpack it"},
		{"zip that lies about its size", is(lyingZip("x.zip", "x.csv", 80<<20)), 3, "x.zip/x.csv: the archive is damaged"},
		{"zip with names that lead out", is(zipOf("x.zip", entry{"../../x.csv", text(good)}, entry{"/etc/x.csv", text(good)}, entry{`..\y.csv`, text(good)})), 3,
			"x.zip/../../x.csv: its name leads out of the archive"},
		{"zip with one name twice", is(zipOf("x.zip", entry{"x.csv", text(rowsOf("0.5"))}, entry{"x.csv", text(rowsOf("0.4"))})), 3, "x.zip/x.csv (again): the archive holds two files of this name"},
		{"zip cut off", is(cut(zipOf("x.zip", entry{"x.csv", text(good)}), 2)), 3, "x.zip: the archive is damaged"},
		{"gzip cut off", is(cut(gzOf("x.csv.gz", text(strings.Repeat(good, 2000))), 2)), 3, "x.csv.gz: the packed file is damaged or cut off"},
		{"other archives", is(file("x.rar", "Rar!"), file("x.tar.gz", "x"), file("x.7z", "7z")), 3, "x.rar: an archive of a kind that is not read"},
		{"workbook bomb: sheet", is(bookOf("x.xlsx", part{"xl/worksheets/sheet1.xml", repeat("<row/>", 40<<20)})), 3, "x.xlsx: …unpacks to"},
		{"workbook bomb: texts", is(bookOf("x.xlsx", sheet(`<row><c t="s"><v>0</v></c></row>`), part{"xl/sharedStrings.xml", around("<sst><si><t>", repeat("a", 40<<20), "</t></si></sst>")})), 3, "x.xlsx: …unpacks to"},
		{"workbook bomb: entities", is(bookOf("x.xlsx", part{"xl/worksheets/sheet1.xml", text(`<!DOCTYPE x [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;">]><worksheet><sheetData><row><c><v>&b;</v></c></row></sheetData></worksheet>`)})), 3,
			"x.xlsx: …a document type, which no workbook has"},
		{"workbook bomb: entities in its list", is(bookOf("x.xlsx", sheet(""), part{"xl/workbook.xml", text(`<!DOCTYPE x [<!ENTITY a "aaaa">]><workbook><sheets><sheet name="&a;"/></sheets></workbook>`)})), 3, "x.xlsx"},
		{"workbook bomb: nesting", is(bookOf("x.xlsx", sheet(""), part{"xl/workbook.xml", repeat("<a>", 15<<20)})), 3, "x.xlsx: …more than 64 tags in each other"},
		{"workbook with rows far apart", is(bookOf("x.xlsx", sheet(`<row r="1"><c t="str"><v>a</v></c></row><row r="1048576"><c><v>1</v></c></row>`))), 3, "x.xlsx: no table"},
		{"workbook with a billionth row", is(bookOf("x.xlsx", sheet(`<row r="1"><c t="str"><v>a</v></c></row><row r="1000000000"><c><v>1</v></c></row>`))), 3, "x.xlsx: …row 1000000000 is beyond the last that a sheet has"},
		{"workbook with columns far apart", is(bookOf("x.xlsx", sheet(`<row r="1"><c r="A1"><v>1</v></c><c r="XFD1"><v>1</v></c><c r="ZZZZZZ1"><v>1</v></c></row>`))), 3, "x.xlsx"},
		{"workbook merged all over", is(bookOf("x.xlsx", part{"xl/worksheets/sheet1.xml", text(`<worksheet><sheetData><row r="1"><c t="str"><v>a</v></c></row></sheetData><mergeCells>` +
			strings.Repeat(`<mergeCell ref="A1:XFD1048576"/>`, 20000) + `</mergeCells></worksheet>`)})), 3, "x.xlsx"},
		{"workbook cut off", is(cut(bookOf("x.xlsx", sheet("")), 2)), 3, "x.xlsx: the workbook is damaged or cut off"},

		// Texts without measure.
		{"short rows", is(fileOf("x.csv", repeat("0,0\n", 2<<20))), 3, "x.csv: the table has no headings"},
		{"shorter rows", is(fileOf("x.csv", repeat("a\n", 2<<20))), 3, "x.csv: the table has no headings"},
		{"rows of reps, each broken", is(fileOf("x.csv", around(head, repeat("2026-01-07,Vera Holm,squat,90,1,1,fast,,\n2026-01-07,Vera Holm,squat,90,2,1,fast,,\n", 1<<19), ""))), 3, "\"fast\" is not a number"},
		{"a line without end", is(fileOf("x.csv", around(good, repeat("x", *huge<<20), ""))), 3, "x.csv:5: a line of more than 1048576 bytes"},
		{"a quote without end", is(fileOf("x.csv", around(good+"2026-01-07,\"", repeat("x,1\n", *huge<<20), ""))), 3, "x.csv"},
		{"zeros without end", is(fileOf("x.csv", around(good, repeat("\x00", *huge<<20), ""))), 3, "x.csv"},
		{"blank lines without end", is(fileOf("x.csv", around(rowsOf("0.5"), repeat("\n", *huge<<20), "2026-01-07,Vera Holm,squat,90,1,2,fast,7,\n"))), 3, "\"fast\" is not a number"},
		{"carriage returns without end", is(fileOf("x.csv", around(rowsOf("0.5"), repeat("\r", *huge<<20), "2026-01-07,Vera Holm,squat,90,1,2,fast,7,\n"))), 3, "\"fast\" is not a number"},
		{"a million columns", is(file("x.csv", strings.Repeat(",", 1_000_000)+"\n"+strings.Repeat("1,", 500_000)+"\n")), 3, "x.csv"},
		{"half a million headings", is(file("x.csv", strings.Repeat("a,", 500_000)+"\n"+strings.Repeat("1,", 500_000)+"\n")), 3, "x.csv"},
		{"speeds of two hundred thousand reps", is(file("x.csv", "date,lifter,lift,load (kg)"+numbered(",rep %d (m/s)", 60_000)+"\n2026-01-07,Vera Holm,squat,90"+strings.Repeat(",0.5", 60_000)+"\n")), 3, "x.csv"},

		// Bytes that are no text.
		{"NUL bytes", is(file("x.csv", strings.ReplaceAll(rowsOf("0.5", "0.4", "fast"), "Vera", "Ve\x00ra"))), 3, "\"fast\" is not a number"},
		{"invalid UTF-8", is(file("x.csv", strings.ReplaceAll(rowsOf("0.5", "0.4", "fast"), "Vera", "V\xff\xc3\x28era"))), 3, "encoding = \"koi8-r\" or encoding = "},
		{"lone surrogates", is(file("x.csv", strings.ReplaceAll(rowsOf("0.5", "0.4", "fast"), "Vera", "V\xed\xa0\x80era"))), 3, "\"fast\" is not a number"},
		{"lone surrogates in UTF-16", is(file("x.csv", "\xff\xfe"+wide(rowsOf("0.5", "fast"))+"\x00\xd8")), 3, "\"fast\" is not a number"},
		{"random bytes", is(file("x.csv", noise(64<<10))), 3, "x.csv: not a text and not a workbook"},
		{"a workbook that is called .csv", is(bookOf("x.csv", sheet(`<row><c t="str"><v>a</v></c></row>`))), 3, "x.csv: there is no row of data in the file"},
		{"a text that is called .xlsx", is(file("x.xlsx", rowsOf("fast"))), 3, "\"fast\" is not a number"},
		{"a web page that is called .csv", is(file("x.csv", "<html><body>")), 3, "x.csv: a web page, whatever its name says"},

		// Numbers and dates at their ends.
		{"numbers without measure", is(file("x.csv", rowsOf("1e999", "-1e999", "NaN", "Inf", "-0", "1e-320", "0x1p3", "1_000"))), 3, "x.csv:2:"},
		{"loads without measure", is(file("x.csv", strings.ReplaceAll(rowsOf("0.5", "0.4"), ",90,", ",1e999,"))), 3, "x.csv:2:"},
		{"sets and reps without measure", is(file("x.csv", strings.ReplaceAll(rowsOf("0.5", "0.4", "fast"), ",90,1,", ",90,99999999999999999999,"))), 3, "x.csv"},
		{"the year 0", is(file("x.csv", strings.ReplaceAll(rowsOf("0.5", "0.4"), "2026-", "0000-"))), 3, "x.csv"},
		{"the year 9999", is(file("x.csv", strings.ReplaceAll(rowsOf("0.5", "0.4"), "2026-", "9999-"))), 3, "x.csv"},

		// A tree that is no tree of files.
		{"a pipe", is(fifo("x.csv")), 3, "x.csv: a pipe or device, not a file"},
		{"a link to a pipe", is(fifo("p"), link("x.csv", "p")), 3, "x.csv: a pipe or device, not a file"},
		{"a link to a device", is(link("x.csv", "/dev/zero")), 3, "x.csv: a pipe or device, not a file"},
		{"a link to nothing", is(link("x.csv", "gone.csv")), 3, "x.csv: there is no such file or folder"},
		{"a link to itself", is(link("x.csv", "x.csv")), 3, "x.csv: too many levels"},
		{"a link back", is(link("x", ".")), 0, "x: a link back to a folder above it"},
		{"links that multiply", is(linked(12)), 3, "holds more than 1000 links"},
		{"folders forty deep", is(file(strings.Repeat("d/", 40)+"x.csv", good)), 3, "more than 32 folders deep"},
		{"a folder called x.csv", is(file("x.csv/y.csv", rowsOf("fast"))), 3, "x.csv/y.csv:2: …\"fast\" is not a number"},
		{"an empty file", is(file("x.csv", "")), 3, "x.csv: the file is empty"},
		{"a season file without measure", is(file("season.toml", strings.Repeat("# much\n", 200_000))), 1, "larger than 1 MiB"},
		{"a season file of nesting", is(file("season.toml", "season = "+strings.Repeat("[", 100_000))), 1, "season.toml"},
		{"a season file that is a pipe", is(fifo("season.toml")), 1, "season.toml is no file"},
		{"an own output among the inputs", is(file("old/run.json", "{}"), file("old/reps.parquet", "PAR1"), file("old/datapackage.json", "{}"), file("old/reps.csv", good)), 0, "old: a folder written by repsift"},
	}
}

func is(p ...put) []put { return p }

func TestHostile(t *testing.T) {
	for _, c := range hostiles() {
		t.Run(c.name, func(t *testing.T) {
			dir := t.TempDir()
			t.Chdir(dir)
			file("good.csv", good)(t, "in")
			for _, p := range c.put {
				p(t, "in")
			}
			status, said := measured(t, "tidy", "in", "--out", "out")
			if status != c.status || !saysAll(said, c.says) {
				t.Errorf("exit status %d, want %d with %q; it said\n%.4000s", status, c.status, c.says, said)
			}
			if status != statusFailed {
				mustKeepGood(t, "out")
				harmless(t, "out")
			}
			onlyIn(t, ".", "in", "out")
			for _, args := range [][]string{{"peek", "in"}, {"peek", "--json", "in"}} {
				if status, said := measured(t, args...); status != c.status {
					t.Errorf("%s: exit status %d, want %d; it said\n%.4000s", args, status, c.status, said)
				}
			}
		})
	}
}

// measured runs a command line in this process and returns what it said. It
// fails the test where time or memory are out of bounds, and where anything
// that could command a terminal came through.
func measured(t *testing.T, args ...string) (status int, said string) {
	t.Helper()
	var out bytes.Buffer
	runtime.GC()
	stop, peak, begun := make(chan bool), uint64(0), time.Now()
	go func() {
		for tick := time.NewTicker(2 * time.Millisecond); ; {
			select {
			case <-tick.C:
				peak = max(peak, inUse())
			case <-stop:
				tick.Stop()
				stop <- true
				return
			}
		}
	}()
	before := inUse()
	status = run(context.Background(), args, &console{out: &out, err: &out, width: 80})
	stop <- true
	<-stop
	took, grew := time.Since(begun), max(peak, before)-before
	t.Logf("%s: status %d, %.1f s, %d MB", strings.Join(args[:min(len(args), 2)], " "), status, took.Seconds(), grew>>20)
	if took > mostTime || grew > mostBytes {
		t.Errorf("%s: took %s and %d MB", args, took, grew>>20)
	}
	if i := strings.IndexFunc(out.String(), commandsTerminal); i >= 0 {
		t.Errorf("%s: on the screen: %q", args, out.String()[i:min(i+40, out.Len())])
	}
	return status, out.String()
}

func commandsTerminal(r rune) bool {
	return r != '\n' && unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r)
}

// inUse returns the bytes of the heap.
func inUse() uint64 {
	s := []metrics.Sample{{Name: "/memory/classes/heap/objects:bytes"}}
	metrics.Read(s)
	return s[0].Value.Uint64()
}

// saysAll reports whether the parts of want stand in said in their order.
func saysAll(said, want string) bool {
	said = strings.Join(strings.Fields(said), " ")
	for part := range strings.SplitSeq(want, "…") {
		_, after, ok := strings.Cut(said, part)
		if !ok {
			return false
		}
		said = after
	}
	return true
}

// onlyIn fails where a folder holds anything but what is named.
func onlyIn(t *testing.T, dir string, names ...string) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if !contains(names, e.Name()) {
			t.Errorf("%s is left in %s", e.Name(), dir)
		}
	}
}

// mustKeepGood fails where the good export was not read whole.
func mustKeepGood(t *testing.T, out string) {
	t.Helper()
	for _, l := range ledgerOf(t, out) {
		if err := l.Balance(); err != nil {
			t.Error(err)
		}
		if l.Source == "good.csv" && l.RepRows == 3 && l.Kept == 3 && l.Rows == 4 {
			return
		}
	}
	b, _ := os.ReadFile(filepath.Join(out, "run.json"))
	t.Errorf("good.csv was not read whole: %s", b)
}
