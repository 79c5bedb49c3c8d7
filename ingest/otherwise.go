package ingest

import (
	"io/fs"
	"strings"

	"repsift/ingest/source"
	"repsift/ingest/table"
)

// noDelimiter makes each line of a text one cell: no text has it.
const noDelimiter = "\x1f"

// otherwise looks whether a text that makes no sense does so with another
// delimiter or encoding: one with which it is a whole table of reps or sets,
// with headings that are words of the trade, or a log of plain lines. What is declared is not tried
// otherwise, nor what cannot help: a delimiter that the text does not hold makes
// one column, and an encoding in which it reads the same changes nothing. Nil
// where nothing helps.
func (r *reader) otherwise(fsys fs.FS, name string, opt table.Options, not *table.File) (*table.File, *source.Source) {
	if not.Format != "text" {
		return nil, nil
	}
	var tries []table.Options
	if opt.Delimiter == "" {
		for _, d := range []string{"\t", ";", ",", "|"} {
			if d != not.Delimiter && not.Holds(d[0]) {
				try := opt
				try.Delimiter = d
				tries = append(tries, try)
			}
		}
	}
	if opt.Encoding == "" && !strings.HasPrefix(not.Encoding, "UTF") {
		for _, e := range []string{"windows-1252", "windows-1250", "windows-1251", "iso-8859-2", "macintosh"} {
			if !strings.EqualFold(e, not.Encoding) && !not.ReadsSame(e) {
				try := opt
				try.Encoding = e
				tries = append(tries, try)
			}
		}
	}
	if opt.Delimiter == "" && not.Delimiter != "" {
		try := opt
		try.Delimiter = noDelimiter
		tries = append(tries, try)
	}
	for _, try := range tries {
		file, err := table.Open(fsys, name, try)
		if err != nil || try.Delimiter == noDelimiter && !file.Holds(noDelimiter[0]) && !source.MayBeLog(file, r.season) {
			continue
		}
		if found, err := source.Survey(name, file, r.season); err == nil && (found.Clear() || try.Delimiter == noDelimiter && found.Log()) {
			return file, found
		}
	}
	return nil, nil
}
