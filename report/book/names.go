package book

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf16"

	"golang.org/x/text/cases"
)

// names are the names of the sheets that are not tables.
type names struct {
	contents string
	lifters  []string // in the order of the profiles; none where there are too many
}

// inOrder returns the names of all sheets behind the first, in order.
func (n names) inOrder(tables []*table) []string {
	all := append([]string{tables[0].sheet}, n.lifters...)
	for _, t := range tables[1:] {
		all = append(all, t.sheet)
	}
	return all
}

// sheetNames gives every lifter a sheet name: at most 31 signs, without those
// that sheet names may not have, and unlike every other after folding case.
func (b *Book) sheetNames(tables []*table) names {
	n := names{contents: "contents"}
	fold := cases.Fold()
	taken := map[string]bool{n.contents: true, "history": true} // a name spreadsheets keep
	for _, t := range tables {
		taken[t.sheet] = true
	}
	if len(b.Profiles.Lifters) > MaxLifters {
		return n
	}
	for i := range b.Profiles.Lifters {
		base := sheetName(b.Profiles.Lifters[i].Name)
		name := base
		for k := 2; taken[fold.String(name)]; k++ {
			name = shorten(base, 27) + " " + strconv.Itoa(k)
		}
		taken[fold.String(name)] = true
		n.lifters = append(n.lifters, name)
	}
	return n
}

func sheetName(lifter string) string {
	name := strings.Map(func(r rune) rune {
		if strings.ContainsRune(`[]:*?/\`, r) || unicode.IsControl(r) || unicode.Is(unicode.Cf, r) || r == utf8Broken {
			return ' '
		}
		return r
	}, lifter)
	name = strings.Join(strings.Fields(name), " ")
	name = strings.Trim(shorten(name, 31), "' ")
	if name == "" {
		return "lifter"
	}
	return name
}

const utf8Broken = '\uFFFD'

// shorten cuts a text to a number of UTF-16 units, which spreadsheets count.
func shorten(s string, most int) string {
	n := 0
	for i, r := range s {
		if n += max(1, utf16.RuneLen(r)); n > most {
			return s[:i]
		}
	}
	return s
}

// quoted returns a sheet name as references have it.
func quoted(sheet string) string { return "'" + strings.ReplaceAll(sheet, "'", "''") + "'" }
