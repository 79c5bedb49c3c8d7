package date

import (
	"math"
	"testing"
)

func TestSerial(t *testing.T) {
	tests := []struct {
		serial float64
		d1904  bool
		want   string // "": error
	}{
		// ECMA-376 part 1, 18.17.4.1: serial 1 is 1900-01-01, and 1900 counts as
		// a leap year in the 1900 system.
		{1, false, "1900-01-01"},
		{59, false, "1900-02-28"},
		{60, false, ""},
		{61, false, "1900-03-01"},
		{39448, false, "2008-01-01"}, // spreadsheet manuals' own example of a serial
		{46117, false, "2026-04-05"},
		{46117.75, false, "2026-04-05 18:00:00.000"},
		{46117.753553240742, false, "2026-04-05 18:05:07.000"},
		{46117.9999999999, false, "2026-04-06 00:00:00.000"}, // rounds into the next day
		{0, false, ""},
		{0.5, false, ""},
		{-1, false, ""},
		{math.NaN(), false, ""},
		{math.Inf(1), false, ""},
		{1e9, false, ""},
		{0, true, "1904-01-01"},
		{1, true, "1904-01-02"},
		{37986, true, "2008-01-01"}, // 39448 − 1462
		{0.5, true, "1904-01-01 12:00:00.000"},
	}
	for _, tt := range tests {
		s, err := Serial(tt.serial, tt.d1904)
		got := show(s)
		if err != nil {
			got = ""
		}
		if got != tt.want {
			t.Errorf("Serial(%v, %v) = %q, %v; want %q", tt.serial, tt.d1904, got, err, tt.want)
		}
	}
}

func TestSerialClock(t *testing.T) {
	for serial, want := range map[float64]int32{0: 0, 0.5: 43_200_000, 0.753553240741: 65_107_000, 46117.25: 21_600_000, 0.99999999999: 0} {
		if ms, err := SerialClock(serial); err != nil || ms != want {
			t.Errorf("SerialClock(%v) = %d, %v; want %d", serial, ms, err, want)
		}
	}
	if _, err := SerialClock(-0.1); err == nil {
		t.Error("SerialClock(-0.1): no error")
	}
}
