package book

import (
	"fmt"

	"github.com/xuri/excelize/v2"
)

// The few inks of the workbook. They differ in lightness, so they stay apart
// on a black and white print, and the two of the charts are told apart by
// people who do not see red or green.
const (
	ink     = "1B1D1F"
	quiet   = "55595E"
	wash    = "E9ECEA" // behind headings
	rule    = "C9CCD0"
	first   = "0072B2" // points and lines of the main series
	second  = "D55E00"
	lighter = "8A8F94" // bands
)

// cellStyle is how a cell looks.
type cellStyle struct {
	format string // number format; empty: general
	bold   bool
	size   float64 // 0: as everywhere
	color  string  // of the text; empty: ink
	fill   bool
	wrap   bool
	under  bool // a rule below
	right  bool
}

var (
	heading = cellStyle{bold: true, fill: true, wrap: true, under: true}
	title   = cellStyle{bold: true, size: 16}
	section = cellStyle{bold: true, size: 13}
	caption = cellStyle{bold: true, under: true}
	note    = cellStyle{color: quiet}
	plain   = cellStyle{}
)

// style returns the number of a style, made once.
func (p *print) style(s cellStyle) (int, error) {
	if s == plain {
		return 0, nil
	}
	key := fmt.Sprintf("%+v", s)
	if id, ok := p.styles[key]; ok {
		return id, nil
	}
	st := &excelize.Style{Font: &excelize.Font{Family: "Calibri", Size: 11, Bold: s.bold, Color: ink}}
	if s.size > 0 {
		st.Font.Size = s.size
	}
	if s.color != "" {
		st.Font.Color = s.color
	}
	if s.format != "" {
		st.CustomNumFmt = &s.format
	}
	if s.fill {
		st.Fill = excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{wash}}
	}
	if s.wrap || s.right {
		st.Alignment = &excelize.Alignment{WrapText: s.wrap, Vertical: "top"}
		if s.right {
			st.Alignment.Horizontal = "right"
		}
	}
	if s.under {
		st.Border = []excelize.Border{{Type: "bottom", Color: rule, Style: 1}}
	}
	id, err := p.NewStyle(st)
	if err == nil {
		p.styles[key] = id
	}
	return id, err
}

// pageAcross sets a sheet to print on A4 across, as wide as the page, with the
// heading on every page.
func (p *print) pageAcross(sheet string) error {
	a4, across, wide, high := 9, "landscape", 1, 0
	if err := p.SetPageLayout(sheet, &excelize.PageLayoutOptions{Size: &a4, Orientation: &across, FitToWidth: &wide, FitToHeight: &high}); err != nil {
		return err
	}
	fit := true
	return p.SetSheetProps(sheet, &excelize.SheetPropsOptions{FitToPage: &fit})
}
