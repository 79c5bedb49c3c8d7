package score

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"github.com/xuri/excelize/v2"
	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
)

// val is a cell before it is written.
type val struct {
	text     string
	num      float64
	decimals int
	kind     byte   // 't' text, 'n' number, 'd' day
	unit     string // behind a number
	day      time.Time
}

func text(s string) val { return val{text: s, kind: 't'} }

func num(v float64, decimals int) val { return val{num: v, decimals: decimals, kind: 'n'} }

func whole(n int) val { return num(float64(n), 0) }

// style is how an export writes its cells.
type style struct {
	comma     bool
	trim      bool // 0.4 for 0.40
	date      string
	null      string
	separator string // of texts
	quoteAll  bool
	charset   string
	lineEnd   string
	numbers   bool // of a workbook: numbers and dates are such, not texts
	clock     string
	names     string // how lifters are written
	effort    string // how RPE is written
}

func (g *gen) style() style {
	s := style{comma: g.lang.comma, trim: g.chance(0.3), charset: "UTF-8", lineEnd: pick(g, []string{"\n", "\r\n"}), numbers: g.chance(0.8)}
	if g.chance(0.15) {
		s.comma = !s.comma
	}
	s.date = g.weighted("2006-01-02", 4, "02.01.2006", 3, "2.1.2006", 1, "02/01/2006", 2, "2/1/2006", 1, "02-01-2006", 1, "2 Jan 2006", 1, "02.01.06", 1, "2006/01/02", 1, "20060102", 1)
	if g.lang.name == "en" && g.chance(0.35) {
		s.date = pick(g, []string{"01/02/2006", "1/2/2006", "Jan 2, 2006"})
	}
	switch {
	case g.chance(0.04):
		s.date = "serial"
	case g.lang.name == "en" && g.chance(0.05):
		s.date = "1/2/06"
	}
	s.clock = g.weighted("15:04", 5, "15:04:05", 2, "3:04 PM", 2, "3:04:05 pm", 1, "15.04", 1, "15h04", 1)
	s.names = g.weighted("plain", 6, "family first", 1, "capitals", 1, "small", 1)
	s.effort = g.weighted("plain", 8, "@", 1, "RPE", 1)
	s.null = g.weighted("", 4, "-", 1, "--", 1, "n/a", 1)
	s.separator = g.weighted(",", 4, ";", 3, "\t", 3, "|", 1)
	if s.comma && s.separator == "," && g.chance(0.7) {
		s.separator = ";"
	}
	s.quoteAll = s.separator != "\t" && g.chance(0.15)
	local := map[string][]string{"pl": {"windows-1250", "iso-8859-2"}, "ru": {"windows-1251"}, "en": {"windows-1252"}}[g.lang.name]
	if local == nil {
		local = []string{"windows-1252", "macintosh", "iso-8859-1"}
	}
	if g.chance(0.4) {
		s.charset = pick(g, append(local, "utf-8-bom", "utf-16le", "utf-16be"))
	}
	g.say("decimal comma %v, dates %s, delimiter %q, %s", s.comma, s.date, s.separator, s.charset)
	return s
}

// write returns a value as text.
func (g *gen) write(s *style, v val) string {
	switch v.kind {
	case 'n':
		out := strconv.FormatFloat(v.num, 'f', v.decimals, 64)
		if s.trim && strings.Contains(out, ".") {
			out = strings.TrimRight(strings.TrimRight(out, "0"), ".")
		}
		if s.comma {
			out = strings.Replace(out, ".", ",", 1)
		}
		if v.unit != "" {
			out += " " + v.unit
		}
		return out
	case 'd':
		return g.date(s.date, v.day)
	}
	return v.text
}

// date writes a day, with the month in the export's language.
func (g *gen) date(layout string, day time.Time) string {
	if layout == "serial" { // days since 1899-12-30, as spreadsheets count
		return strconv.Itoa(int(day.Sub(time.Date(1899, 12, 30, 0, 0, 0, 0, time.UTC)).Hours() / 24))
	}
	if strings.Contains(layout, "Jan") {
		name := strings.Fields(g.lang.months)[day.Month()-1]
		if layout == "Jan 2, 2006" {
			return fmt.Sprintf("%s %d, %d", name, day.Day(), day.Year())
		}
		point := ""
		if strings.Contains("de da no fi", g.lang.name) {
			point = "."
		}
		return fmt.Sprintf("%d%s %s %d", day.Day(), point, name, day.Year())
	}
	return day.Format(layout)
}

// named writes a lifter's name in the export's way.
func (s *style) named(name string) string {
	switch given, family, _ := strings.Cut(name, " "); s.names {
	case "family first":
		return family + ", " + given
	case "capitals":
		return strings.ToUpper(name)
	case "small":
		return strings.ToLower(name)
	}
	return name
}

// time writes a time of day.
func (s *style) time(minutes int) string {
	at := time.Date(2000, 1, 1, 0, minutes%(24*60), 0, 0, time.UTC).Format(s.clock)
	return at
}

// sheet is a named grid.
type sheet struct {
	name string
	rows [][]val
}

// asText writes a grid as delimited text, in the style's encoding where that
// has all the characters, else in UTF-8.
func (g *gen) asText(s *style, rows [][]val) []byte {
	var b strings.Builder
	for _, row := range rows {
		for i, v := range row {
			if i > 0 {
				b.WriteString(s.separator)
			}
			t := g.write(s, v)
			if strings.ContainsAny(t, s.separator+"\"\n") || s.quoteAll && v.kind == 't' && t != "" {
				t = `"` + strings.ReplaceAll(t, `"`, `""`) + `"`
			}
			b.WriteString(t)
		}
		b.WriteString(s.lineEnd)
	}
	charsets := map[string]encoding.Encoding{
		"windows-1250": charmap.Windows1250, "windows-1251": charmap.Windows1251, "windows-1252": charmap.Windows1252,
		"iso-8859-1": charmap.ISO8859_1, "iso-8859-2": charmap.ISO8859_2, "macintosh": charmap.Macintosh, "utf-8-bom": unicode.UTF8BOM,
		"utf-16le": unicode.UTF16(unicode.LittleEndian, unicode.UseBOM), "utf-16be": unicode.UTF16(unicode.BigEndian, unicode.UseBOM),
	}
	if c := charsets[s.charset]; c != nil {
		if out, err := c.NewEncoder().String(b.String()); err == nil {
			return []byte(out)
		}
		g.say("(written in UTF-8)")
	}
	return []byte(b.String())
}

// asBook writes grids as a workbook.
func (g *gen) asBook(s *style, sheets []sheet) ([]byte, error) {
	f := excelize.NewFile()
	defer f.Close()
	format := "dd/mm/yyyy"
	dated, err := f.NewStyle(&excelize.Style{CustomNumFmt: &format})
	if err != nil {
		return nil, err
	}
	for i, sh := range sheets {
		if i == 0 {
			err = f.SetSheetName("Sheet1", sh.name)
		} else {
			_, err = f.NewSheet(sh.name)
		}
		if err != nil {
			return nil, err
		}
		for r, row := range sh.rows {
			for c, v := range row {
				at, _ := excelize.CoordinatesToCellName(c+1, r+1)
				switch {
				case v.kind == 'n' && s.numbers && v.unit == "":
					err = f.SetCellValue(sh.name, at, math.Round(v.num*1e6)/1e6)
				case v.kind == 'd' && s.numbers:
					if err = f.SetCellValue(sh.name, at, v.day); err == nil {
						err = f.SetCellStyle(sh.name, at, at, dated)
					}
				default:
					if t := g.write(s, v); t != "" {
						err = f.SetCellStr(sh.name, at, t)
					}
				}
				if err != nil {
					return nil, err
				}
			}
		}
	}
	var b bytes.Buffer
	err = f.Write(&b)
	return b.Bytes(), err
}
