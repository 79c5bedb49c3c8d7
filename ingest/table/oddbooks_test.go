package table

import (
	"bytes"
	"strings"
	"testing"
	"testing/fstest"
)

// oddBook is a workbook written by hand: its parts but for those that all have.
func oddBook(t *testing.T, parts map[string]string) []byte {
	t.Helper()
	all := map[string]string{
		"xl/workbook.xml":            `<workbook xmlns:r="x"><sheets><sheet name="Log" r:id="rId1"/></sheets></workbook>`,
		"xl/_rels/workbook.xml.rels": `<Relationships><Relationship Id="rId1" Type="x/worksheet" Target="worksheets/sheet1.xml"/></Relationships>`,
	}
	for name, content := range parts {
		if content == "" {
			delete(all, name)
		} else {
			all[name] = content
		}
	}
	return zipOf(t, all)
}

func sheetOf(rows string) string {
	return `<worksheet><sheetData>` + rows + `</sheetData></worksheet>`
}

// TestOddWorkbooks reads what other programs write and the format allows
// (ECMA-376 part 1): each is the same table of two columns.
func TestOddWorkbooks(t *testing.T) {
	const (
		heads = `<row r="1"><c r="A1" t="inlineStr"><is><t>Site</t></is></c><c r="B1" t="inlineStr"><is><t>Depth</t></is></c></row>`
		mill  = `<row r="2"><c r="A2" t="inlineStr"><is><t>mill</t></is></c><c r="B2"><v>1.5</v></c></row>`
		quay  = `<row r="3"><c r="A3" t="inlineStr"><is><t>quay</t></is></c><c r="B3"><v>2.5</v></c></row>`
		plain = heads + mill + quay
	)
	for _, c := range []struct {
		idea  string
		parts map[string]string
	}{
		{"as usual", map[string]string{"xl/worksheets/sheet1.xml": sheetOf(plain)}},
		{"names of namespaces before all tags", map[string]string{
			"xl/worksheets/sheet1.xml": strings.NewReplacer("</", "</x:", "<", "<x:").Replace(sheetOf(plain))}},
		{"a dimension of a whole sheet", map[string]string{"xl/worksheets/sheet1.xml": strings.Replace(sheetOf(plain), "<sheetData>", `<dimension ref="A1:XFD1048576"/><sheetData>`, 1)}},
		{"rows and cells without places", map[string]string{"xl/worksheets/sheet1.xml": sheetOf(strings.NewReplacer(` r="1"`, "", ` r="2"`, "", ` r="3"`, "",
			` r="A1"`, "", ` r="B1"`, "", ` r="A2"`, "", ` r="B2"`, "", ` r="A3"`, "", ` r="B3"`, "").Replace(plain))}},
		{"the path of the sheet from the root", map[string]string{
			"xl/_rels/workbook.xml.rels": `<Relationships><Relationship Id="rId1" Type="x/worksheet" Target="/xl/worksheets/sheet1.xml"/></Relationships>`,
			"xl/worksheets/sheet1.xml":   sheetOf(plain)}},
		{"the strict form of the standard", map[string]string{
			"xl/workbook.xml":            `<workbook xmlns="http://purl.oclc.org/ooxml/spreadsheetml/main" xmlns:r="http://purl.oclc.org/ooxml/officeDocument/relationships" conformance="strict"><sheets><sheet name="Log" sheetId="1" r:id="rId1"/></sheets></workbook>`,
			"xl/_rels/workbook.xml.rels": `<Relationships><Relationship Id="rId1" Type="http://purl.oclc.org/ooxml/officeDocument/relationships/worksheet" Target="worksheets/sheet1.xml"/></Relationships>`,
			"xl/worksheets/sheet1.xml":   sheetOf(plain)}},
		{"parts in a folder of another name", map[string]string{
			"xl/workbook.xml": "", "xl/_rels/workbook.xml.rels": "",
			"_rels/.rels":              `<Relationships><Relationship Id="rId1" Type="x/officeDocument" Target="/book/main.xml"/></Relationships>`,
			"book/main.xml":            `<workbook xmlns:r="x"><sheets><sheet name="Log" r:id="rId1"/></sheets></workbook>`,
			"book/_rels/main.xml.rels": `<Relationships><Relationship Id="rId1" Type="x/worksheet" Target="sheets/one.xml"/></Relationships>`,
			"book/sheets/one.xml":      sheetOf(plain)}},
		{"parts named with backslashes and capitals", map[string]string{`XL\Worksheets\Sheet1.xml`: sheetOf(plain)}},
		{"shared texts with runs and readings", map[string]string{
			"xl/sharedStrings.xml":     `<sst><si><t>Site</t></si><si><r><t>Dep</t></r><r><rPr><b/></rPr><t>th</t></r><rPh sb="0" eb="2"><t>de pu su</t></rPh><phoneticPr fontId="1"/></si><si><t xml:space="preserve">mill</t></si><si><t>quay</t></si></sst>`,
			"xl/worksheets/sheet1.xml": sheetOf(`<row><c t="s"><v>0</v></c><c t="s"><v>1</v></c></row><row><c t="s"><v>2</v></c><c><v>1.5</v></c></row><row><c t="s"><v>3</v></c><c><v>2.5</v></c></row>`)}},
		{"texts of formulas, and a formula's number", map[string]string{
			"xl/worksheets/sheet1.xml": sheetOf(heads + `<row r="2"><c r="A2" t="str"><f>LOWER("MILL")</f><v>mill</v></c><c r="B2"><f>3/2</f><v>1.5</v></c></row>` + quay)}},
		{"references to characters", map[string]string{
			"xl/worksheets/sheet1.xml": sheetOf(heads + strings.Replace(mill, "mill", "m&#105;&#x6C;l", 1) + strings.Replace(quay, "quay", "<![CDATA[quay]]>", 1))}},
		{"comments and extensions between", map[string]string{
			"xl/worksheets/sheet1.xml": strings.Replace(sheetOf(heads+`<!-- <row><c><v>9</v></c></row> -->`+mill+quay), "</worksheet>", `<extLst><ext uri="x"><x14:sparkline><xm:f>Log!A1</xm:f></x14:sparkline></ext></extLst></worksheet>`, 1)}},
		{"UTF-16", map[string]string{"xl/worksheets/sheet1.xml": "\xFF\xFE" + wide(`<?xml version="1.0" encoding="UTF-16"?>`+sheetOf(plain))}},
		{"numbers with exponents and needless digits", map[string]string{
			"xl/worksheets/sheet1.xml": sheetOf(heads + strings.Replace(mill, "1.5", "15E-1", 1) + strings.Replace(quay, "2.5", "2.4999999999999999", 1))}},
		{"styles that are not there", map[string]string{"xl/worksheets/sheet1.xml": sheetOf(strings.ReplaceAll(plain, "<c ", `<c s="77" `))}},
	} {
		f, err := Open(fstest.MapFS{"a.xlsx": {Data: oddBook(t, c.parts)}}, "a.xlsx", Options{})
		if err != nil {
			t.Errorf("%s: %v", c.idea, err)
			continue
		}
		l, err := f.Sheets[0].Layout()
		if err != nil {
			t.Errorf("%s: %v", c.idea, err)
			continue
		}
		var b bytes.Buffer
		if err := WriteCells(&b, f.Sheets[0], l); err != nil {
			t.Errorf("%s: %v", c.idea, err)
		}
		if got := b.String(); got != "Site,Depth\r\nmill,1.5\r\nquay,2.5\r\n" || len(f.Sheets) != 1 || len(f.Said)+len(l.Said) > 0 {
			t.Errorf("%s: %q, said %q %q", c.idea, got, f.Said, l.Said)
		}
	}
}

func wide(s string) string {
	var b strings.Builder
	for i := range len(s) {
		b.WriteByte(s[i])
		b.WriteByte(0)
	}
	return b.String()
}

// TestCellsAsShown writes cells as a person reads them: dates in ISO form, a day
// without its midnight; numbers and percents as plain numbers.
func TestCellsAsShown(t *testing.T) {
	styles := `<styleSheet><numFmts><numFmt numFmtId="164" formatCode="yyyy\-mm\-dd"/><numFmt numFmtId="165" formatCode="0.0%"/><numFmt numFmtId="166" formatCode="dd/mm/yyyy hh:mm"/></numFmts>` +
		`<cellXfs><xf numFmtId="0"/><xf numFmtId="164"/><xf numFmtId="165"/><xf numFmtId="166"/></cellXfs></styleSheet>`
	for cell, want := range map[string]string{
		`<c s="1"><v>46085</v></c>`:                         "2026-03-04",
		`<c s="1"><v>46085.75</v></c>`:                      "2026-03-04 18:00:00",
		`<c s="3"><v>46085</v></c>`:                         "2026-03-04 00:00:00",
		`<c s="2"><v>0.125</v></c>`:                         "0.125",
		`<c t="d" s="1"><v>2026-03-04</v></c>`:              "2026-03-04",
		`<c t="d" s="1"><v>2026-03-04T00:00:00</v></c>`:     "2026-03-04",
		`<c t="d" s="3"><v>2026-03-04T00:00:00Z</v></c>`:    "2026-03-04 00:00:00",
		`<c t="d"><v>2026-03-04T18:05:10.5</v></c>`:         "2026-03-04 18:05:10.5",
		`<c t="d"><v>18:05:10</v></c>`:                      "18:05:10",
		`<c t="d"><v>soon</v></c>`:                          "soon",
		`<c t="b"><v>1</v></c>`:                             "TRUE",
		`<c t="e"><v>#DIV/0!</v></c>`:                       "#DIV/0!",
		`<c><v>12345678901234567</v></c>`:                   "12345678901234567",
		`<c><v>0.30000000000000004</v></c>`:                 "0.30000000000000004",
		`<c t="inlineStr"><is><t>a_x000D_</t></is></c>`:     "a\r",
		`<c t="inlineStr"><is><t>_x0041_ _x4 </t></is></c>`: "A _x4 ",
		`<c t="s"><v>99</v></c>`:                            "",
		`<c t="str"><f>""</f><v></v></c>`:                   "",
	} {
		f, err := Open(fstest.MapFS{"a.xlsx": {Data: oddBook(t, map[string]string{"xl/styles.xml": styles, "xl/worksheets/sheet1.xml": sheetOf(`<row>` + cell + `<c><v>7</v></c></row>`)})}}, "a.xlsx", Options{})
		if err != nil {
			t.Fatal(err)
		}
		for row, err := range f.Sheets[0].Rows() {
			if err != nil || row.Cells[0].Text != want {
				t.Errorf("%s: %q, %v; want %q", cell, row.Cells[0].Text, err, want)
			}
		}
	}
}
