package xlsx

import (
	"math"
	"strconv"
	"strings"
	"time"
)

// format is what a number format makes of a number.
type format uint8

const (
	plain   format = iota
	day            // a date
	clock          // a time of day
	moment         // both
	elapsed        // hours, minutes or seconds beyond a day: [h]:mm
)

// readStyles learns which cell styles are dates.
func (b *Book) readStyles() error {
	if b.paths[0] == "" || b.parts[b.paths[0]] == nil {
		return nil
	}
	var s struct {
		NumFmts struct {
			NumFmt []struct {
				ID   int    `xml:"numFmtId,attr"`
				Code string `xml:"formatCode,attr"`
			} `xml:"numFmt"`
		} `xml:"numFmts"`
		CellXfs struct {
			Xf []struct {
				ID int `xml:"numFmtId,attr"`
			} `xml:"xf"`
		} `xml:"cellXfs"`
	}
	if err := b.decode(b.paths[0], &s); err != nil {
		return err
	}
	formats := map[int]format{}
	for _, f := range s.NumFmts.NumFmt {
		formats[f.ID] = formatOf(f.Code)
	}
	b.styles = make([]format, len(s.CellXfs.Xf))
	for i, x := range s.CellXfs.Xf {
		f, ok := formats[x.ID]
		if !ok {
			f = builtIn(x.ID)
		}
		b.styles[i] = f
	}
	return nil
}

// builtIn returns the format of the numbers that need no definition: ECMA-376
// part 1, 18.8.30 (numFmt), with those of East Asian languages.
func builtIn(id int) format {
	switch {
	case id >= 14 && id <= 17, id >= 27 && id <= 31, id == 36, id >= 50 && id <= 54, id == 57, id == 58:
		return day
	case id >= 18 && id <= 21, id >= 32 && id <= 35, id == 45, id == 47, id == 55, id == 56:
		return clock
	case id == 22:
		return moment
	case id == 46:
		return elapsed
	}
	return plain
}

// formatOf reads a format code: letters of dates and times outside of quotes,
// brackets and escapes. Placeholders of digits make it a number, but for
// fractions of seconds.
func formatOf(code string) format {
	var dates, times, months, spans bool
	prev := byte(0)
	for i := 0; i < len(code); i++ {
		c := code[i]
		switch c {
		case '"':
			if end := strings.IndexByte(code[i+1:], '"'); end >= 0 {
				i += end + 1
			} else {
				i = len(code)
			}
			continue
		case '\\', '_', '*':
			i++
			continue
		case '[':
			end := strings.IndexByte(code[i:], ']')
			if end < 0 {
				return plain
			}
			in := strings.ToLower(code[i+1 : i+end])
			if in != "" && strings.Trim(in, in[:1]) == "" && strings.Contains("hms", in[:1]) {
				spans = true
			}
			i += end
			continue
		case ';':
			i = len(code) // the first section is that of positive numbers
			continue
		case 'y', 'Y', 'd', 'D', 'e', 'g', 'b':
			if strings.HasPrefix(code[i:], "eneral") {
				i += 5
				continue
			}
			dates = true
		case 'G':
			if strings.HasPrefix(code[i:], "General") {
				return plain
			}
		case 'h', 'H', 's', 'S':
			times = true
		case 'm', 'M':
			months = true
		case '0', '#', '?':
			if !(c == '0' && (prev == '.' || prev == ',' || prev == '0') && (times || spans)) {
				return plain
			}
		}
		prev = c
	}
	switch {
	case spans:
		return elapsed
	case dates && times:
		return moment
	case times:
		return clock
	case dates || months:
		return day
	}
	return plain
}

// Serials that spreadsheets show as dates: up to the end of 9999.
const maxSerial = 2958466

// isoText writes a serial as its format means it: "2026-03-04",
// "2026-03-04 18:05:00", "18:05:00", "27:30:00". A date that has a time of day
// shows it, whatever its format. false: no such date.
func isoText(serial float64, f format, date1904 bool) (string, bool) {
	if math.IsNaN(serial) || serial < 0 && f != elapsed || math.Abs(serial) >= maxSerial {
		return "", false
	}
	sign := ""
	if serial < 0 {
		sign, serial = "-", -serial
	}
	days := math.Floor(serial)
	ms := int64(math.Round((serial - days) * 86_400_000))
	if ms == 86_400_000 {
		days, ms = days+1, 0
	}
	if f == elapsed {
		return sign + clockText(int64(days)*86_400_000+ms), true
	}
	if f == clock && days == 0 {
		return clockText(ms), true
	}
	text := dayText(int64(days), date1904)
	if ms != 0 || f == moment {
		text += " " + clockText(ms)
	}
	return text, true
}

func clockText(ms int64) string {
	b := make([]byte, 0, 16)
	b = appendTwo(b, ms/3_600_000)
	b = appendTwo(append(b, ':'), ms/60_000%60)
	b = appendTwo(append(b, ':'), ms/1000%60)
	if ms %= 1000; ms != 0 {
		b = append(b, '.', byte('0'+ms/100), byte('0'+ms/10%10), byte('0'+ms%10))
		for b[len(b)-1] == '0' {
			b = b[:len(b)-1]
		}
	}
	return string(b)
}

func appendTwo(b []byte, n int64) []byte {
	if n < 10 {
		b = append(b, '0')
	}
	return strconv.AppendInt(b, n, 10)
}

// dayText writes a day by the system of the workbook. The 1900 system has a
// 29 February 1900, serial 60, that never was; days before it are one off.
func dayText(days int64, date1904 bool) string {
	const unix1900, unix1904 = 25569, 24107 // serials of 1970-01-01
	switch {
	case date1904:
		days -= unix1904
	case days == 60:
		return "1900-02-29"
	case days < 60:
		days -= unix1900 - 1
	default:
		days -= unix1900
	}
	return time.Unix(days*86_400, 0).UTC().Format(time.DateOnly)
}

// serialOf reads the ISO dates that cells of type d hold.
func serialOf(text string, date1904 bool) (float64, bool) {
	base := time.Date(1899, 12, 30, 0, 0, 0, 0, time.UTC)
	if date1904 {
		base = time.Date(1904, 1, 1, 0, 0, 0, 0, time.UTC)
	}
	text = strings.TrimSuffix(text, "Z")
	for _, layout := range []string{"2006-01-02T15:04:05.999", time.DateOnly, "2006-01-02T15:04", "15:04:05.999", "15:04"} {
		if t, err := time.Parse(layout, text); err == nil {
			if t.Year() == 0 {
				t = time.Date(base.Year(), base.Month(), base.Day(), t.Hour(), t.Minute(), t.Second(), t.Nanosecond(), time.UTC)
			}
			return t.Sub(base).Hours() / 24, true
		}
	}
	return 0, false
}
