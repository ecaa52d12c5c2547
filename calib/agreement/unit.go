package agreement

import (
	"strings"

	"padband/charts/units"
)

// unit spells a call's unit as it is printed: "mg/l as NO3-N" and "mg/L, N" are
// mg/L as N, and pH is its own unit. One that is not known here stays as it is.
func (p *parser) unit(c *Call) {
	if c.Unit == "" && c.As == "" && strings.EqualFold(c.Analyte, "pH") {
		c.Unit = "pH"
		return
	}
	written := units.Unit{Name: c.Unit, As: c.As}
	known, ok := p.units[written]
	if !ok {
		known = spelled(written)
		p.units[written] = known
	}
	c.Unit, c.As = known.Name, known.As
}

func spelled(u units.Unit) units.Unit {
	if p, err := units.Parse(u.String()); err == nil {
		return p
	}
	if unit, as, ok := strings.Cut(u.Name, " as "); ok && u.As == "" {
		return units.Unit{Name: strings.TrimSpace(unit), As: strings.TrimSpace(as)}
	}
	return u
}
