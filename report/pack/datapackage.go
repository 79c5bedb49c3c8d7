package pack

import (
	"fmt"
	"io"
	"path"
	"strings"

	"repsift/ingest/rep"
)

// Schemas of the standard, Data Package v2.
const (
	packageSchema  = "https://datapackage.org/profiles/2.0/datapackage.json"
	resourceSchema = "https://datapackage.org/profiles/2.0/dataresource.json"
	tableSchema    = "https://datapackage.org/profiles/2.0/tableschema.json"
	dialectSchema  = "https://datapackage.org/profiles/2.0/tabledialect.json"
)

type dataPackage struct {
	Schema      string     `json:"$schema"`
	Name        string     `json:"name"`
	Title       string     `json:"title"`
	Description string     `json:"description"`
	Keywords    []string   `json:"keywords"`
	Sources     []source   `json:"sources"`
	Handover    *Handover  `json:"handover,omitempty"`
	Resources   []resource `json:"resources"`
}

// source is where data came from. The hash is a property of our own, which the
// standard allows: of the content, or keyed in a hand-over.
type source struct {
	Title  string `json:"title"`
	SHA256 string `json:"sha256,omitempty"`
	Keyed  string `json:"sha256_keyed,omitempty"`
}

type resource struct {
	Schema      string   `json:"$schema"`
	Name        string   `json:"name"`
	Type        string   `json:"type,omitempty"`
	Path        any      `json:"path"` // a name, or those of all parts
	Title       string   `json:"title"`
	Description string   `json:"description"`
	Format      string   `json:"format"`
	MediaType   string   `json:"mediatype"`
	Encoding    string   `json:"encoding,omitempty"`
	Bytes       any      `json:"bytes,omitempty"` // nil: of several files
	Hash        string   `json:"hash,omitempty"`
	Dialect     *dialect `json:"dialect,omitempty"`
	Table       *schema  `json:"schema,omitempty"`
}

type dialect struct {
	Schema         string `json:"$schema"`
	Delimiter      string `json:"delimiter"`
	LineTerminator string `json:"lineTerminator"`
	QuoteChar      string `json:"quoteChar"`
	DoubleQuote    bool   `json:"doubleQuote"`
	Header         bool   `json:"header"`
}

type schema struct {
	Schema        string   `json:"$schema"`
	Fields        []field  `json:"fields"`
	MissingValues []string `json:"missingValues"`
	PrimaryKey    []string `json:"primaryKey,omitempty"`
}

// field is one column. unit is a property of our own.
type field struct {
	Name        string      `json:"name"`
	Type        string      `json:"type"`
	Format      string      `json:"format,omitempty"`
	Delimiter   string      `json:"delimiter,omitempty"`
	ItemType    string      `json:"itemType,omitempty"`
	Unit        string      `json:"unit,omitempty"`
	Description string      `json:"description"`
	Constraints *constraint `json:"constraints,omitempty"`
}

type constraint struct {
	Required bool     `json:"required,omitempty"`
	Unique   bool     `json:"unique,omitempty"`
	Pattern  string   `json:"pattern,omitempty"`
	Enum     []string `json:"enum,omitempty"`
}

// table is one of the tidy tables.
type table struct {
	name    string // of its files, without ending
	title   string
	about   string
	columns []rep.Column
	key     []string
}

var tables = []table{
	{"reps", "Kept reps", "One row per rep that counts, sorted by lifter, lift, date, set and rep.", rep.Columns, []string{"rep_id"}},
	{"set_aside", "Reps set aside", "One row per rep that was set aside, with the filter that did it and why. Nothing is deleted.", rep.AsideColumns, []string{"rep_id"}},
	{"sets", "Sets", "One row per set: counts, speeds of the first, fastest, last and slowest rep, RPE, and what the hand log said.", rep.SetColumns, nil},
	{"unread", "What could not be read", "One row per line or cell of a source that could not be read, with what to do about it.", rep.UnreadColumns, nil},
}

// formats says what a file of an output folder is, by its ending.
var formats = map[string]struct{ format, mediaType, encoding, title string }{
	".csv":     {"csv", "text/csv", "utf-8", ""},
	".parquet": {"parquet", "application/vnd.apache.parquet", "", ""},
	".json":    {"json", "application/json", "utf-8", "Every number of every lifter's profile"},
	".html":    {"html", "text/html", "utf-8", "Page of a lifter: speed card, charts, sets"},
	".xlsx":    {"xlsx", "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet", "", "Workbook of the season"},
	".md":      {"md", "text/markdown", "utf-8", "Codebook in plain words"},
	".py":      {"py", "text/x-python", "utf-8", "Script to start from"},
	".R":       {"r", "text/x-r", "utf-8", "Script to start from"},
}

// WriteDataPackage writes datapackage.json of a run: one resource for each of
// its files.
func WriteDataPackage(w io.Writer, run *Run) error {
	p := dataPackage{
		Schema: packageSchema,
		Name:   slug("repsift " + run.Season),
		Title:  title(run),
		Description: "Bar speed of every rep of a training season, merged from the exports of speed units and hand logs, " +
			"false reps set aside by written rules. README.md explains files and columns; run.json holds what ran.",
		Keywords:  []string{"powerlifting", "bar speed", "velocity-based training", "load-velocity profile", "RPE"},
		Sources:   []source{},
		Resources: []resource{},
		Handover:  run.Handover,
	}
	for _, l := range run.Sources {
		if run.Handover != nil {
			p.Sources = append(p.Sources, source{Title: l.Source, Keyed: l.SHA256})
		} else {
			p.Sources = append(p.Sources, source{Title: l.Source, SHA256: l.SHA256})
		}
	}
	taken := map[string]bool{}
	for _, c := range cuts(run.Files) {
		p.Resources = append(p.Resources, c.resource())
	}
	for _, f := range run.Files {
		if _, _, part := partOf(f.Name); part {
			continue
		}
		r, err := resourceOf(f)
		if err != nil {
			return err
		}
		for n, base := 2, r.Name; taken[r.Name]; n++ {
			r.Name = fmt.Sprintf("%s-%d", base, n)
		}
		taken[r.Name] = true
		p.Resources = append(p.Resources, r)
	}
	return writeJSON(w, p)
}

func title(run *Run) string {
	if run.Season == "" {
		return "Bar speeds of a season"
	}
	return run.Season
}

func resourceOf(f File) (resource, error) {
	ending := path.Ext(f.Name)
	known, ok := formats[ending]
	if !ok {
		return resource{}, fmt.Errorf("datapackage.json: no file type for %s", f.Name)
	}
	r := resource{
		Schema: resourceSchema, Name: slug(strings.ReplaceAll(f.Name, "/", "-")), Path: f.Name,
		Title: known.title, Description: known.title + ".", Format: known.format, MediaType: known.mediaType, Encoding: known.encoding,
		Bytes: f.Bytes, Hash: "sha256:" + f.SHA256,
	}
	if what, ok := handedFiles[f.Name]; ok {
		r.Title, r.Description = what, what+"."
	}
	for _, t := range tables {
		if f.Name != t.name+ending {
			continue
		}
		r.Type, r.Title, r.Description = "table", t.title, t.about
		r.Table = t.schema()
		if known.format == "csv" {
			r.Dialect = &dialect{dialectSchema, ",", "\r\n", `"`, true, true}
			r.Description += " " + defused
		}
	}
	return r, nil
}

// defused is the sentence every reader of a CSV file needs.
const defused = "In a text, a sign a spreadsheet would run as a formula (= + - @ at the start or behind a separator) " +
	"has a single quote before it, which is no part of the text; the Parquet file holds the text as it is."

func (t *table) schema() *schema {
	s := &schema{Schema: tableSchema, MissingValues: []string{""}, PrimaryKey: t.key}
	for _, c := range t.columns {
		s.Fields = append(s.Fields, fieldOf(c))
	}
	return s
}

func fieldOf(c rep.Column) field {
	f := field{Name: c.Name, Unit: c.Unit, Description: c.Meaning}
	if c.Unit != "" {
		f.Description += " Unit: " + c.Unit + "."
	}
	switch c.Type {
	case rep.String:
		f.Type = "string"
	case rep.Date:
		f.Type = "date"
	case rep.Timestamp:
		f.Type = "datetime"
	case rep.Int32:
		f.Type = "integer"
	case rep.Float64:
		f.Type = "number"
	case rep.Bool:
		f.Type = "boolean"
	case rep.StringList:
		f.Type, f.ItemType, f.Delimiter = "list", "string", "; "
	}
	k := constraint{Required: !c.Null && c.Type != rep.StringList}
	switch c.Name {
	case "rep_id":
		k.Unique, k.Pattern = true, "[0-9a-f]{16}"
	case "set_role":
		k.Enum = []string{rep.WarmUp.String(), rep.Top.String(), rep.BackOff.String(), rep.Work.String()}
	case "rpe_from":
		k.Enum = []string{rep.RPEExport.String(), rep.RPEHandLog.String()}
	case "lost":
		k.Enum = []string{rep.LostRow.String(), rep.LostCell.String()}
	}
	if k.Required || k.Unique || k.Pattern != "" || k.Enum != nil {
		f.Constraints = &k
	}
	return f
}

// slug returns a text as a name of the standard: lower case letters of ASCII,
// digits, and . - _; other signs become a hyphen.
func slug(text string) string {
	var b strings.Builder
	for _, r := range strings.ToLower(text) {
		switch {
		case r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r == '.' || r == '_':
			b.WriteRune(r)
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "-"):
			b.WriteByte('-')
		}
	}
	return strings.Trim(b.String(), "-.")
}
