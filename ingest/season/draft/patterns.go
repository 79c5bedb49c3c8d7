package draft

import (
	"path"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"repsift/ingest/season"
)

// Patterns returns the fewest patterns found that match all of files and none
// of others: by folder and ending, else by folder, common beginning and
// ending, else each file by its name. Sorted.
func Patterns(files, others []string) []string {
	type kind struct{ dir, ext string }
	byKind := make(map[kind][]string)
	for _, f := range files {
		k := kind{path.Dir(f), path.Ext(f)}
		byKind[k] = append(byKind[k], f)
	}
	var out []string
	for k, names := range byKind {
		dir := ""
		if k.dir != "." {
			dir = escaped(k.dir) + "/"
		}
		common := path.Base(names[0])
		for _, n := range names[1:] {
			for !strings.HasPrefix(path.Base(n), common) {
				_, size := utf8.DecodeLastRuneInString(common)
				common = common[:len(common)-size]
			}
		}
		found := ""
		for _, p := range []string{dir + "*" + escaped(k.ext), dir + escaped(common) + "*" + escaped(k.ext)} {
			if found == "" && len(names) > 1 && fitsAll(p, names) && !slices.ContainsFunc(others, func(o string) bool { return season.Matches(p, o) }) {
				found = p
			}
		}
		if found != "" {
			out = append(out, found)
			continue
		}
		for _, n := range names {
			out = append(out, escaped(n))
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

func fitsAll(pattern string, names []string) bool {
	return !slices.ContainsFunc(names, func(n string) bool { return !season.Matches(pattern, n) })
}

// escaped writes a file name as a pattern that matches it. Signs that a
// pattern cannot hold are matched by ?.
func escaped(name string) string {
	var b strings.Builder
	for _, r := range name {
		switch {
		case r == '*' || r == '?' || r == '[':
			b.WriteString("[" + string(r) + "]")
		case r == '\\' || r == utf8.RuneError || !unicode.IsPrint(r):
			b.WriteByte('?')
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// plainText makes any text one line that a comment or name can hold.
func plainText(s string) string {
	return strings.TrimSpace(strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f || !unicode.IsPrint(r) && !unicode.IsSpace(r) || unicode.Is(unicode.Zl, r) || unicode.Is(unicode.Zp, r) {
			return ' '
		}
		return r
	}, strings.ToValidUTF8(s, "�")))
}

// quoted writes a text as a TOML string.
func quoted(s string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(s) + `"`
}

func quotedAll(list []string) []string {
	out := make([]string, len(list))
	for i, s := range list {
		out[i] = quoted(s)
	}
	return out
}

func clip(s string, most int) string {
	r := []rune(s)
	if len(r) <= most {
		return s
	}
	return string(r[:most-1]) + "…"
}
