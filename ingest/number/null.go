package number

import "strings"

// nulls holds, in lower case, what people and programs write for "nothing".
var nulls = func() map[string]bool {
	m := make(map[string]bool)
	for _, t := range strings.Fields("- -- --- ---- – — −- . .. ... … / -/- ? n/a n.a. n.a na n/d n.d. nd n/b k.a. k/a s/d" +
		" none nil null <null> (null) nan missing blank empty leer ohne vacío vazio vuoto leeg tom brak нет н/д \\n") {
		m[t] = true
	}
	return m
}()

// longestNull is the length in bytes of the longest text that is null and no
// error with a #: "missing", "blank" with the sign of kelvin, "err:502".
const longestNull = 7

// IsNull reports whether a text says that there is no value: nothing but
// blanks, "--", "n/a", "null", "NaN", and the error texts of spreadsheets
// ([IsSheetError]).
func IsNull(text string) bool {
	if text == "" {
		return true
	}
	if digit(text[0]) {
		return false
	}
	text = strings.TrimFunc(text, blank)
	if text == "" {
		return true
	}
	if len(text) > 24 || len(text) > longestNull && text[0] != '#' {
		return false
	}
	return nulls[strings.ToLower(text)] || IsSheetError(text)
}

// sheetErrors holds the error texts of spreadsheets without a closing mark.
var sheetErrors = map[string]bool{"#n/a": true, "#n/d": true, "#n/b": true, "#nv": true, "#i/t": true, "#н/д": true,
	"#puuttuu": true, "#getting_data": true, "#div/0": true, "n/a!": true}

// IsSheetError reports whether a text is a spreadsheet's error value in any
// language: #DIV/0!, #WERT!, #¿NOMBRE?, #N/A, #####, Err:502.
func IsSheetError(text string) bool {
	if len(text) < 2 {
		return false
	}
	if code, ok := strings.CutPrefix(strings.ToLower(text), "err:"); ok {
		return len(code) == 3 && digit(code[0]) && digit(code[1]) && digit(code[2])
	}
	if text[0] != '#' {
		return false
	}
	end := text[len(text)-1]
	return !digit(text[1]) && (end == '!' || end == '?') || strings.Trim(text, "#") == "" && len(text) > 2 ||
		sheetErrors[strings.ToLower(text)]
}
