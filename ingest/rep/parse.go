package rep

import (
	"fmt"
	"time"
)

// UnmarshalText reads a moment as [Instant.String] writes it.
func (i *Instant) UnmarshalText(b []byte) error {
	t, err := time.Parse(time.RFC3339, string(b))
	if err != nil {
		return fmt.Errorf("%q is not a moment of the form 2026-01-31T17:05:00.000Z", b)
	}
	*i = InstantOf(t)
	return nil
}

// RoleOf returns the role of a name, as [Role.String] writes it.
func RoleOf(name string) (Role, bool) {
	for r := RoleUnknown; r <= Work; r++ {
		if r.String() == name {
			return r, true
		}
	}
	return RoleUnknown, false
}

// RPEFromOf returns where an RPE comes from, as [RPEFrom.String] writes it.
func RPEFromOf(name string) (RPEFrom, bool) {
	for f := RPEUnknown; f <= RPEHandLog; f++ {
		if f.String() == name {
			return f, true
		}
	}
	return RPEUnknown, false
}

// LostOf returns how much was lost, as [Lost.String] writes it.
func LostOf(name string) (Lost, bool) {
	for _, l := range []Lost{LostRow, LostCell} {
		if l.String() == name {
			return l, true
		}
	}
	return LostRow, false
}
