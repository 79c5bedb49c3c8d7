package book

import (
	"archive/zip"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"

	"repsift/clean"
	"repsift/ingest/rep"
	"repsift/profile"
	"repsift/report/tidy"
)

// Texts that a spreadsheet would run, or that a file breaks on.
var nasty = []string{"=1+2", "+1", "-1", "@x", "\t=1", "=HYPERLINK(\"http://x\",\"y\")", "<b>&amp;\"'", "a\r\nb", "_x0041_", "\x01\x02", "\xff",
	"\u202Eabc", strings.Repeat("é", 40000), " lead", "李娜", "\uFFFE"}

// sample returns a book of n invented reps; the texts in it are nasty where
// none are given.
func sample(n int, texts ...string) *Book {
	if texts == nil {
		texts = nasty
	}
	t := new(rep.Table)
	res := &clean.Result{Reps: t}
	for i := range n {
		q := rep.Rep{Lifter: texts[i%len(texts)], Date: rep.Day(20500 + i), Lift: "squat", LoadKg: 100 + float64(i%40)/2, MeanVelocity: float64(i%900) / 1000,
			Source: "a.csv", Sheet: texts[(i+3)%len(texts)], Row: int32(i + 2), Session: 1, Set: 2, Rep: 3, Role: rep.Top}
		if i%2 == 0 {
			q.ROM, q.PerformedAt = rep.Some(0.123456789012345), rep.Some(rep.Instant(1769875500123))
			q.Flags = q.Flags.With(rep.LoadCheck).With(rep.FlexAllowance)
		}
		row := t.Append(&q)
		if i%5 == 4 {
			res.Aside = append(res.Aside, clean.Aside{Row: row, Filter: rep.Rebound, Reason: "=bounce", Measured: rep.Some(0.1)})
		} else {
			res.Kept = append(res.Kept, row)
		}
	}
	for i := range 20 {
		res.Sets.Add(rep.Set{Lifter: "Ines Duarte", Date: rep.Day(20500 + i), Lift: "squat", LoadKg: rep.Some(100.0), Loss: rep.Some(0.25),
			Log: &rep.Logged{Text: nasty[i%len(nasty)], Source: "log.xlsx", Row: 3}, Source: "a.csv", Row: 4})
	}
	for _, s := range nasty {
		res.Unread = append(res.Unread, rep.Unread{Lost: rep.LostCell, Place: rep.Place{Source: "a.csv", Row: 9}, Text: s, Problem: "unclear"})
	}
	res.Ledger = []rep.Ledger{{Source: "a.csv", Rows: n + 1, RepRows: n, NotData: 1, Reps: n, Kept: len(res.Kept), SetAside: len(res.Aside)}}
	p := &profile.Profiles{Cautions: []string{"Estimates, not prescriptions."}}
	for _, name := range []string{"Ines Duarte", "=x/[y]*?", "ines duarte", strings.Repeat("n", 40), "reps"} {
		p.Lifters = append(p.Lifters, lifter(name))
	}
	return &Book{Season: "Winter block", Result: res, Profiles: p}
}

func lifter(name string) profile.Lifter {
	est := func(v, w float64, n int) profile.Estimate {
		return profile.Estimate{Known: true, Value: v, Lo: v - w, Hi: v + w, Level: 0.95, N: n, Of: "sets"}
	}
	span := profile.Span{From: 20500, To: 20590, Days: 30}
	l := profile.Lift{Lift: "squat", Sets: 40, Reps: 160, Span: span, Main: profile.Group{Bar: "stiff", Device: "north unit"}, E1RMNow: est(180, 6, 9)}
	for i := range 40 {
		r := 6 + float64(i%9)/2
		l.Effort.Points = append(l.Effort.Points, profile.EffortPoint{Date: rep.Day(20500 + i), LoadKg: 140, Reps: 5, RPE: r,
			Slowest: profile.Number(0.62 - 0.04*r + float64(i%5)/100), InLine: true})
		kg := 60 + float64(i%12)*10
		l.LoadVelocity.At = append(l.LoadVelocity.At, profile.DayPoint{Date: rep.Day(20500 + i), LoadKg: profile.Number(kg),
			Speed: profile.Number(1.3 - kg*0.006 + float64(i%5)/100), Role: "top"})
		from := []string{"top single", "line"}[i%2]
		l.E1RM = append(l.E1RM, profile.E1RM{Date: rep.Day(20500 + 2*i), From: from, Kg: est(170+float64(i)/4, 5, 3), What: "160 kg × 1 at RPE 9"})
		l.Readiness = append(l.Readiness, profile.Readiness{Date: rep.Day(20500 + 2*i), LoadKg: 120, Speed: 0.6, Usual: est(0.6, 0.05, i), Verdict: profile.AsUsual})
	}
	for r := 6.0; r <= 10; r += 0.5 {
		l.Effort.ByRPE = append(l.Effort.ByRPE, profile.AtRPE{RPE: r, Speed: est(0.64-0.04*r, 0.08, 40)})
		l.Effort.Levels = append(l.Effort.Levels, profile.EffortLevel{RPE: r, Sets: 4, Slowest: profile.Number(0.64 - 0.04*r), SD: profile.Number(math.NaN())})
	}
	for kg := 50.0; kg < 190; kg += 10 {
		v := 1.32 - kg*0.006
		l.LoadVelocity.Curve = append(l.LoadVelocity.Curve, profile.CurvePoint{LoadKg: profile.Number(kg), Speed: profile.Number(v),
			NextLo: profile.Number(v - 0.1), NextHi: profile.Number(v + 0.1)})
	}
	for p := 100; p >= 50; p -= 5 {
		l.LoadVelocity.Table = append(l.LoadVelocity.Table, profile.PercentRow{Percent: p, LoadKg: profile.Number(1.8 * float64(p)), Fastest: 0.3, Lo: 0.2, Hi: 0.4})
	}
	l.Blocks = []profile.Block{{Name: "volume", Span: span, Sets: 30, Reps: 150, Tonnage: 12345}}
	bench := profile.Lift{Lift: "bench press", Sets: 2, Reps: 6, Span: span,
		E1RMNow: profile.Estimate{Need: 4, Have: 2, Of: "sets with RPE and speed"}}
	return profile.Lifter{Name: name, Span: span, Sessions: 30, Lifts: []profile.Lift{l, bench}}
}

func bytesOf(t testing.TB, b *Book, maxRows int) []byte {
	t.Helper()
	b.TmpDir = t.TempDir()
	var out bytes.Buffer
	if err := write(t.Context(), &out, b, maxRows); err != nil {
		t.Fatal(err)
	}
	if left, _ := os.ReadDir(b.TmpDir); len(left) > 0 {
		t.Errorf("%d temporary files are left", len(left))
	}
	return out.Bytes()
}

func open(t *testing.T, b []byte) *excelize.File {
	t.Helper()
	f, err := excelize.OpenReader(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { f.Close() })
	return f
}

// What goes in comes out: same values, typed, and no text has become a
// formula.
func TestValues(t *testing.T) {
	b := sample(400)
	f := open(t, bytesOf(t, b, MaxRows))
	for _, tab := range b.tables() {
		rows, err := f.GetRows(tab.sheet, excelize.Options{RawCellValue: true})
		if err != nil {
			t.Fatal(err)
		}
		if len(rows) != tab.rows+1 {
			t.Fatalf("sheet %s has %d rows, wants %d", tab.sheet, len(rows), tab.rows+1)
		}
		var cells []tidy.Cell
		for i := range tab.rows {
			cells = tab.cells(cells, i)
			for j, want := range cells {
				got := ""
				if j < len(rows[i+1]) {
					got = rows[i+1][j]
				}
				if n, err := strconv.ParseFloat(got, 64); err == nil && want.Kind != tidy.Words {
					got = strconv.FormatFloat(n, 'g', 15, 64)
				}
				if w := asRead(want); got != w {
					t.Fatalf("sheet %s row %d, %s: %q, wants %q", tab.sheet, i+2, tab.columns[j].heading, clip(got), clip(w))
				}
			}
		}
	}
	date, err := f.GetCellValue("sets", "B2") // as a person sees it
	if err != nil || date != rep.Day(20500).String() {
		t.Errorf("the first date shows as %q, %v", date, err)
	}
}

func clip(s string) string {
	if len(s) > 60 {
		return s[:60] + "…"
	}
	return s
}

// asRead returns a cell as the raw reader gives it back.
func asRead(c tidy.Cell) string {
	switch v := value(&c).(type) {
	case nil:
		return ""
	case float64:
		return strconv.FormatFloat(v, 'g', 15, 64) // the digits spreadsheets keep
	case bool:
		if v {
			return "1"
		}
		return "0"
	case string:
		return v
	default:
		return fmt.Sprint(v)
	}
}

// No part holds a formula, and every part is well-formed enough for the types.
func TestNoFormula(t *testing.T) {
	z, err := zip.NewReader(bytes.NewReader(bytesOf(t, sample(200), MaxRows)), int64(len(bytesOf(t, sample(200), MaxRows))))
	if err != nil {
		t.Fatal(err)
	}
	charts := 0
	for _, part := range z.File {
		if !part.Modified.IsZero() && part.Modified.Year() > 1980 {
			t.Errorf("%s is dated %s", part.Name, part.Modified)
		}
		if strings.HasPrefix(part.Name, "xl/charts/chart") {
			charts++
		}
		if !strings.HasPrefix(part.Name, "xl/worksheets/sheet") {
			continue
		}
		r, err := part.Open()
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		if bytes.Contains(text, []byte("<f>")) || bytes.Contains(text, []byte("<f ")) {
			t.Errorf("%s holds a formula", part.Name)
		}
	}
	if charts != 3*5 {
		t.Errorf("%d charts, wants 3 for each of 5 lifters", charts)
	}
}

func TestSameBytes(t *testing.T) {
	for range 5 { // the library walks maps
		if !bytes.Equal(bytesOf(t, sample(50), MaxRows), bytesOf(t, sample(50), MaxRows)) {
			t.Fatal("two writes differ")
		}
	}
}

// A table that is too long for a sheet is left out and said so, twice.
func TestTooLong(t *testing.T) {
	b := sample(400)
	f := open(t, bytesOf(t, b, 100))
	rows, err := f.GetRows("reps")
	if err != nil || len(rows) != 2 || !strings.Contains(rows[1][0], "320 rows are more than a spreadsheet works with; they are all in reps.parquet") {
		t.Errorf("reps: %q, %v", rows, err)
	}
	for i := range MaxLifters {
		b.Profiles.Lifters = append(b.Profiles.Lifters, profile.Lifter{Name: fmt.Sprint("lifter ", i)})
	}
	many := open(t, bytesOf(t, b, MaxRows))
	if n := many.SheetCount; n != 7 {
		t.Errorf("%d sheets for %d lifters, wants 7", n, len(b.Profiles.Lifters))
	}
	if rows, err := many.GetRows("contents"); err != nil || !strings.Contains(fmt.Sprint(rows), "no sheets of their own for 205 lifters") {
		t.Errorf("contents: %q, %v", rows, err)
	}
	rows, err = f.GetRows("contents")
	if err != nil || !strings.Contains(fmt.Sprint(rows), "left out") {
		t.Errorf("contents: %q, %v", rows, err)
	}
	if rows, err := f.GetRows("sets"); err != nil || len(rows) != 21 {
		t.Errorf("sets: %d rows, %v", len(rows), err)
	}
}

func TestCalledOff(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	b := sample(10)
	b.TmpDir = t.TempDir()
	if err := Write(ctx, io.Discard, b); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
}

func TestSheetNames(t *testing.T) {
	b := sample(1)
	n := b.sheetNames(b.tables())
	want := []string{"Ines Duarte", "=x y", "ines duarte 2", strings.Repeat("n", 31), "reps 2"}
	if fmt.Sprint(n.lifters) != fmt.Sprint(want) {
		t.Errorf("got %q, wants %q", n.lifters, want)
	}
}

func TestHeading(t *testing.T) {
	got := map[string]string{}
	for _, c := range append(rep.AsideColumns, rep.SetColumns...) {
		got[c.Name] = Heading(c)
	}
	for name, want := range map[string]string{"load_kg": "Load (kg)", "mean_velocity_recorded_m_s": "Mean velocity recorded (m/s)", "rom_m": "ROM (m)",
		"concentric_s": "Concentric (s)", "rpe_from": "RPE from", "measured": "Measured", "velocity_loss": "Velocity loss"} {
		if got[name] != want {
			t.Errorf("%s is headed %q, wants %q", name, got[name], want)
		}
	}
}

// A spreadsheet program opens the workbook, shows the same values, and draws
// the charts.
func TestLibreOffice(t *testing.T) {
	office, err := exec.LookPath("soffice")
	if err != nil {
		t.Skip("no LibreOffice here: the workbook is not tried in a spreadsheet program")
	}
	if testing.Short() {
		t.Skip("starts a spreadsheet program")
	}
	dir := t.TempDir()
	b := sample(40)
	if err := os.WriteFile(filepath.Join(dir, "season.xlsx"), bytesOf(t, b, MaxRows), 0o600); err != nil {
		t.Fatal(err)
	}
	convert := func(to string) {
		t.Helper()
		cmd := exec.CommandContext(t.Context(), office, "--headless", "-env:UserInstallation=file://"+dir+"/home", "--convert-to", to, "--outdir", dir, filepath.Join(dir, "season.xlsx"))
		cmd.WaitDelay = time.Second
		if out, err := cmd.CombinedOutput(); err != nil {
			t.Fatalf("%v: %s", err, out)
		}
	}
	convert("pdf")
	pdf, err := os.ReadFile(filepath.Join(dir, "season.pdf"))
	if err != nil || !bytes.HasPrefix(pdf, []byte("%PDF")) {
		t.Fatalf("no PDF: %v", err)
	}
	convert("ods") // its own format: read and written by a program that is not ours
	z, err := zip.OpenReader(filepath.Join(dir, "season.ods"))
	if err != nil {
		t.Fatal(err)
	}
	defer z.Close()
	charts := 0
	for _, part := range z.File {
		if strings.HasPrefix(part.Name, "Object ") && strings.HasSuffix(part.Name, "content.xml") {
			charts++
		}
	}
	if charts != 15 {
		t.Errorf("%d charts arrived, wants 15", charts)
	}
	content, err := z.Open("content.xml")
	if err != nil {
		t.Fatal(err)
	}
	text, err := io.ReadAll(content)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		`office:date-value="` + rep.Day(20500).String() + `"`,
		`office:date-value="2026-01-31T16:05:00.12`,
		`office:value="0.123456789012345"`,
		`<text:p>=1+2</text:p>`,
		`<text:p>` + tidy.ID(b.Result.Reps.ID(0)) + `</text:p>`,
	} {
		if !bytes.Contains(text, []byte(want)) {
			t.Errorf("%s did not arrive", want)
		}
	}
	// A truth value is a formula in that format; nothing else may be one.
	for _, f := range strings.Split(string(text), `table:formula="`)[1:] {
		if f, _, _ = strings.Cut(f, `"`); f != "of:=TRUE()" && f != "of:=FALSE()" {
			t.Errorf("a formula arrived: %s", f)
		}
	}
}

func BenchmarkWrite(b *testing.B) {
	const n = 100_000
	book := sample(n, "Ines Duarte", "Bo Lund")
	for b.Loop() {
		var size counter
		if err := Write(b.Context(), &size, book); err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(size)/n, "bytes/rep")
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/n, "ns/rep")
}

type counter int

func (c *counter) Write(p []byte) (int, error) { *c += counter(len(p)); return len(p), nil }

func BenchmarkLifter(b *testing.B) {
	book := sample(10, "Bo Lund")
	book.Profiles.Lifters = nil
	for i := range 50 {
		book.Profiles.Lifters = append(book.Profiles.Lifters, lifter(fmt.Sprintf("lifter %d", i)))
	}
	for b.Loop() {
		if err := Write(b.Context(), io.Discard, book); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N)/50, "µs/lifter")
}
