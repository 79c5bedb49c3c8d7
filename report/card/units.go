package card

import (
	"fmt"
	"io"

	"repsift/profile"
)

// WriteUnits writes the page that compares units, two by two. Equal input gives
// equal bytes.
func WriteUnits(w io.Writer, p *profile.Profiles) error {
	v := struct {
		Agreement []agreementView
		Cautions  []string
	}{Cautions: p.Cautions}
	for i := range p.Agreement {
		v.Agreement = append(v.Agreement, agreementView{&p.Agreement[i], agreementChart(&p.Agreement[i])})
	}
	if err := pages().ExecuteTemplate(w, "units.html", v); err != nil {
		return fmt.Errorf("page of the units: %w", err)
	}
	return nil
}
