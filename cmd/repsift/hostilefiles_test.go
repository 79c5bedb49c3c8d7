package main

import (
	"archive/zip"
	"bytes"
	"compress/gzip"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf16"
)

// content gives the bytes of a file; each call from the beginning.
type content func() io.Reader

func text(s string) content { return func() io.Reader { return strings.NewReader(s) } }

// repeat is n bytes of a text again and again, made as they are read.
func repeat(s string, n int64) content {
	return func() io.Reader { return io.LimitReader(&again{text: s}, n) }
}

type again struct {
	text string
	at   int
}

func (a *again) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = a.text[a.at]
		if a.at++; a.at == len(a.text) {
			a.at = 0
		}
	}
	return len(p), nil
}

func around(before string, c content, after string) content {
	return func() io.Reader { return io.MultiReader(strings.NewReader(before), c(), strings.NewReader(after)) }
}

// numbered is a text with each number from 1 to n.
func numbered(format string, n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, format, i+1)
	}
	return b.String()
}

// wide is a text in UTF-16, the low byte first.
func wide(s string) string {
	var b strings.Builder
	for _, u := range utf16.Encode([]rune(s)) {
		b.WriteByte(byte(u))
		b.WriteByte(byte(u >> 8))
	}
	return b.String()
}

// noise is n random bytes, always the same.
func noise(n int) string {
	b := make([]byte, n)
	r := rand.NewChaCha8([32]byte{1})
	r.Read(b)
	return string(b)
}

func file(name, s string) put { return fileOf(name, text(s)) }

func fileOf(name string, c content) put {
	return func(t *testing.T, in string) {
		t.Helper()
		name := filepath.Join(in, name)
		must(t, os.MkdirAll(filepath.Dir(name), 0o755))
		f, err := os.Create(name)
		must(t, err)
		_, err = io.Copy(f, c())
		must(t, err)
		must(t, f.Close())
	}
}

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

func gzOf(name string, c content) put {
	return fileOf(name, func() io.Reader {
		var b bytes.Buffer
		z := gzip.NewWriter(&b)
		io.Copy(z, c())
		z.Close()
		return &b
	})
}

type entry struct {
	name string
	content
}

type part = entry

func packed(entries ...entry) *bytes.Buffer {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, e := range entries {
		w, err := z.Create(e.name)
		if err == nil {
			_, err = io.Copy(w, e.content())
		}
		if err != nil {
			panic(err) // of a buffer
		}
	}
	z.Close()
	return &b
}

func zipOf(name string, entries ...entry) put {
	return fileOf(name, func() io.Reader { return packed(entries...) })
}

// nested is archives inside each other.
func nested(name string, deep int) put {
	inner := packed(entry{"x.csv", text(good)})
	for range deep {
		b := inner.String()
		inner = packed(entry{"in.zip", text(b)})
	}
	return fileOf(name, text(inner.String()))
}

// lyingZip says that a file of n bytes has a hundred.
func lyingZip(name, inner string, n int64) put {
	b := packed(entry{inner, repeat("0,0\n", n)}).Bytes()
	r, err := zip.NewReader(bytes.NewReader(b), int64(len(b)))
	if err != nil {
		panic(err) // our own archive
	}
	raw, err := r.File[0].OpenRaw()
	if err != nil {
		panic(err)
	}
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	h := r.File[0].FileHeader
	h.UncompressedSize64 = 100
	w, err := z.CreateRaw(&h)
	if err == nil {
		_, err = io.Copy(w, raw)
	}
	if err != nil {
		panic(err)
	}
	z.Close()
	return fileOf(name, text(out.String()))
}

// bookOf is a workbook of one sheet; parts replace the usual ones.
func bookOf(name string, parts ...part) put {
	usual := part{"xl/workbook.xml", text(`<workbook><sheets><sheet name="Log"/></sheets></workbook>`)}
	for _, p := range parts {
		if p.name == usual.name {
			return zipOf(name, parts...)
		}
	}
	return zipOf(name, append(parts, usual)...)
}

func sheet(rows string) part {
	return part{"xl/worksheets/sheet1.xml", text("<worksheet><sheetData>" + rows + "</sheetData></worksheet>")}
}

// cut keeps one part in n of the file that p makes.
func cut(p put, n int64) put {
	return func(t *testing.T, in string) {
		t.Helper()
		p(t, in)
		entries, err := os.ReadDir(in)
		must(t, err)
		for _, e := range entries {
			if info, err := e.Info(); err == nil && strings.HasPrefix(e.Name(), "x.") {
				must(t, os.Truncate(filepath.Join(in, e.Name()), info.Size()/n))
			}
		}
	}
}

func link(name, to string) put {
	return func(t *testing.T, in string) {
		t.Helper()
		if err := os.Symlink(to, filepath.Join(in, name)); err != nil {
			t.Skip(err)
		}
	}
}

// linked is folders, each with ten links to the next: ten to the power of deep
// ways lead through them.
func linked(deep int) put {
	return func(t *testing.T, in string) {
		t.Helper()
		for i := range deep {
			must(t, os.Mkdir(filepath.Join(in, fmt.Sprint("d", i)), 0o755))
			for k := range 10 {
				link(fmt.Sprintf("d%d/l%d", i, k), fmt.Sprintf("../d%d", i+1))(t, in)
			}
		}
		must(t, os.Mkdir(filepath.Join(in, fmt.Sprint("d", deep)), 0o755))
	}
}
