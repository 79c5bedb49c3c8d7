package charset

import (
	"bytes"
	"io"
	"strings"
	"testing"
	"testing/iotest"

	"golang.org/x/text/encoding/htmlindex"
)

// TestRecognise encodes sentences of the languages that hand logs are kept in,
// and finds the encoding again.
func TestRecognise(t *testing.T) {
	for _, test := range []struct{ encoding, want, text string }{
		{"windows-1252", "Windows-1252", "Gewicht für Kniebeuge und Bankdrücken, größte Last; schön gehoben"},
		{"windows-1252", "Windows-1252", "Vitesse moyenne, série d'échauffement, répétitions ratées à l'épaule"},
		{"windows-1252", "Windows-1252", "Velocidad de la sentadilla, año nuevo, más rápido, señal"},
		{"windows-1252", "Windows-1252", "Markløft, vektløfting, gjennomsnitt på økten, kjørte"},
		{"windows-1252", "Windows-1252", "travel 55 cm ± 2, angle 90°, “good” – said the coach’s note"},
		{"windows-1250", "Windows-1250", "Prędkość sztangi, przysiad ze sztangą, ciężar w kilogramach, ćwiczenie"},
		{"iso-8859-2", "ISO 8859-2", "Prędkość sztangi, przysiad ze sztangą, ciężar w kilogramach, ćwiczenie"},
		{"windows-1251", "Windows-1251", "Скорость штанги, приседание, вес в килограммах"},
		{"koi8-r", "KOI8-R", "Скорость штанги, приседание, вес в килограммах"},
		{"ibm866", "DOS 866", "Скорость штанги, приседание, вес в килограммах"},
		{"macintosh", "Mac Roman", "Gewicht für Kniebeuge und Bankdrücken, größte Last; schön gehoben"},
		{"macintosh", "Mac Roman", "Vitesse moyenne, série d'échauffement, répétitions ratées à l'épaule"},
		{"utf-8", "UTF-8", "Скорость, größte, ćwiczenie"},
		{"utf-8", "UTF-8", "plain"},
		{"utf-16le", "UTF-16LE", "Скорость;0,41\r\nприсед;0,38\r\n"},
		{"utf-16be", "UTF-16BE", "load,speed\r\n180,0.41\r\n"},
		{"shift_jis", "Shift_JIS", "スクワット,ベンチプレス,デッドリフト,重量"},
		{"gb18030", "GB18030", "深蹲,卧推,硬拉,速度,重量,平均速度"},
		{"euc-kr", "EUC-KR", "스쿼트,벤치프레스,데드리프트,속도"},
	} {
		e, err := htmlindex.Get(test.encoding)
		if err != nil {
			t.Fatal(err)
		}
		b, err := e.NewEncoder().Bytes([]byte(test.text))
		if err != nil {
			t.Fatal(err)
		}
		c := Recognise(b)
		if c.Name != test.want {
			t.Errorf("%q in %s is recognised as %s", test.text, test.encoding, c.Name)
		}
		text, err := io.ReadAll(iotest.OneByteReader(NewReader(bytes.NewReader(b), c)))
		if err != nil || string(text) != test.text {
			t.Errorf("%s: %q, %v, want %q", test.want, text, err, test.text)
		}
	}
}

// TestLanguage tells names of a few letters by the language of the words around
// them, and says which encodings do as well where no word tells.
func TestLanguage(t *testing.T) {
	for _, test := range []struct{ encoding, text, want, rival string }{
		{"windows-1252", "Atleta;Data;Esercizio;Peso;Ripetizione;Vel. media\nZoè Marchì;2026-01-05;Stacco da terra;100;1;0,5", "Windows-1252", ""},
		{"windows-1250", "Jmeno;Datum;Cviceni;Opakovani;Rychlost tyce\nZoč Marchě;2026-01-05;drep;100;1;0,5", "Windows-1250", ""},
		{"macintosh", "Atleet;Dag;Oefening;Gewicht;Setnummer;Herhaling;Snelheid\nDANIËL HOEK;14.05.25;Kniebuiging;95;1;1;0,7", "Mac Roman", ""},
		{"windows-1252", "Lifter,Date,Lift,Load,Rep,Speed\nZoè Martin,2026-01-05,squat,100,1,0.5", "Windows-1252", "Windows-1250"},
	} {
		e, err := htmlindex.Get(test.encoding)
		if err != nil {
			t.Fatal(err)
		}
		b, err := e.NewEncoder().Bytes([]byte(test.text))
		if err != nil {
			t.Fatal(err)
		}
		c := Recognise(b)
		rival := ""
		if len(c.Rivals) > 0 {
			rival = c.Rivals[0].Name
		}
		if c.Name != test.want || rival != test.rival {
			t.Errorf("%q in %s is recognised as %s, rival %q; want %s, %q", test.text, test.encoding, c.Name, rival, test.want, test.rival)
		}
	}
}

func TestMarks(t *testing.T) {
	for _, test := range []struct{ in, name string }{
		{"\xEF\xBB\xBFa,é\n", "UTF-8"},
		{"\xFF\xFEa\x00,\x00\xE9\x00\n\x00", "UTF-16LE"},
		{"\xFE\xFF\x00a\x00,\x00\xE9\x00\n", "UTF-16BE"},
		{"\xFF\xFE\x00\x00a\x00\x00\x00,\x00\x00\x00\xE9\x00\x00\x00\n\x00\x00\x00", "UTF-32LE"},
	} {
		c := Recognise([]byte(test.in))
		text, err := io.ReadAll(NewReader(strings.NewReader(test.in), c))
		if c.Name != test.name || string(text) != "a,é\n" || err != nil {
			t.Errorf("%q: %s %q %v", test.in, c.Name, text, err)
		}
	}
}

func TestNamed(t *testing.T) {
	for name, want := range map[string]string{
		"latin1": "Windows-1252", "Latin-2": "ISO 8859-2", "MacRoman": "Mac Roman", "UTF8": "UTF-8", "utf-16": "UTF-16LE", "cp1251": "Windows-1251", "euc-jp": "euc-jp",
	} {
		if c, err := Named(name, nil); err != nil || c.Name != want {
			t.Errorf("%s: %s, %v", name, c.Name, err)
		}
	}
	if c, err := Named("utf-16", []byte("\xFE\xFF\x00a")); err != nil || c.Name != "UTF-16BE" || c.BOM != 2 {
		t.Errorf("a mark overrules the byte order: %+v, %v", c, err)
	}
	if _, err := Named("nonsense", nil); err == nil {
		t.Error("an unknown name is accepted")
	}
}

// TestClean reads what is almost UTF-8 in pieces of any size.
func TestClean(t *testing.T) {
	in := "schön\xf6n\x00 größe \xe2\x82 €\x00\xff ж" + strings.Repeat("é", 3000) + "\xc3"
	want := "schönön größe â‚ €ÿ ж" + strings.Repeat("é", 3000) + "Ã"
	for _, r := range []io.Reader{strings.NewReader(in), iotest.OneByteReader(strings.NewReader(in)), iotest.DataErrReader(strings.NewReader(in))} {
		got, err := io.ReadAll(NewReader(r, Charset{Name: "UTF-8"}))
		if err != nil || string(got) != want {
			t.Errorf("%q, %v", got[:40], err)
		}
	}
}
