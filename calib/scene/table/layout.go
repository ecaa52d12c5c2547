package table

import "math"

// lettering is a text on the chart: the middle of its base line, or one end of it.
type lettering struct {
	text    string
	x, y    float64
	high    float64
	aligned int
	bold    bool
}

// laid is a chart laid out: its block begins at 0, 0.
type laid struct {
	cells  []cell
	notes  []lettering
	tinted []path
	w, h   float64
}

// row is one analyte's place while the chart is laid out.
type row struct {
	start, wide, gap float64 // of the first swatch, along; of each swatch
	from             float64 // across: where titles begin
	patch            float64 // across: where the swatches begin
}

// along is the length of a row of n swatches.
func (p *plan) along(n int) float64 { return float64(n)*(p.wide+p.gap) - p.gap }

// lay places all swatches: rows run to the right and follow each other down;
// columns run down and follow each other to the right.
func (p *plan) lay() laid {
	longest := 0
	for i := range p.chart.Analytes {
		longest = max(longest, len(p.chart.Analytes[i].Swatches))
	}
	high := math.Min(2.6, 0.4*math.Min(p.tall, p.wide)) // of letters
	before0 := p.before(high)
	full := p.along(longest)
	out := laid{}
	at := 0.0
	for i := range p.chart.Analytes {
		n := len(p.chart.Analytes[i].Swatches)
		r := row{start: before0, wide: p.wide, gap: p.gap, from: at}
		switch p.align {
		case 0:
			r.start += (full - p.along(n)) / 2
		case 1:
			r.start += full - p.along(n)
		case 2:
			k := full / p.along(n)
			r.wide, r.gap = r.wide*k, r.gap*k
		}
		if p.titles == above {
			at += 1.9 * high
		}
		if p.numbers == above {
			at += p.numberRoom(high)
		}
		r.patch = at
		at += p.tall
		if p.numbers == below {
			at += p.numberRoom(high)
		}
		p.layRow(&out, i, r, high)
		if p.panels && i%2 == 0 {
			out.tinted = append(out.tinted, p.box(0, r.from-p.apart/2, before0+full, at-r.from+p.apart))
		}
		at += p.apart
	}
	out.w, out.h = before0+full, at-p.apart
	if p.columns {
		out.w, out.h = out.h, out.w
	}
	return out
}

// numberRoom is what numbers take across a row.
func (p *plan) numberRoom(high float64) float64 {
	if p.columns {
		return 3.6 * high
	}
	return 1.7 * high
}

// before is the room for titles at the start of the rows.
func (p *plan) before(high float64) float64 {
	if p.titles != before {
		return 0
	}
	if p.columns {
		return 1.9 * high
	}
	wide := 0.0
	for _, a := range p.chart.Analytes {
		wide = math.Max(wide, plain().width(a.Name))
	}
	return (wide + 1) * high
}

// box is a rectangle by its place along and across the rows.
func (p *plan) box(along, across, long, wide float64) path {
	if p.columns {
		return box(across, along, wide, long)
	}
	return box(along, across, long, wide)
}

// layRow places one row.
func (p *plan) layRow(out *laid, i int, r row, high float64) {
	a := &p.chart.Analytes[i]
	n := len(a.Swatches)
	for k := range n {
		swatch := k
		if p.down {
			swatch = n - 1 - k
		}
		at := r.start + float64(k)*(r.wide+r.gap)
		q := p.box(at, r.patch, r.wide, p.tall)
		out.cells = append(out.cells, cell{analyte: i, swatch: swatch, outline: p.shaped(q)})
		if p.numbers != nowhere {
			out.notes = append(out.notes, p.numberAt(q, number(a.Swatches[swatch].Value), high))
		}
	}
	if p.titles != nowhere {
		out.notes = append(out.notes, p.titleAt(i, r, high))
	}
}

// shaped gives a rectangle the form of the patches.
func (p *plan) shaped(q path) path {
	x, y, w, h := q[0].X, q[0].Y, q[2].X-q[0].X, q[2].Y-q[0].Y
	switch p.form {
	case soft:
		return rounded(x, y, w, h, 0.22*math.Min(w, h))
	case round:
		return ellipse(x+w/2, y+h/2, w/2, h/2)
	}
	return q
}

// numberAt is a swatch's number; in columns it stands beside the swatch.
func (p *plan) numberAt(q path, text string, high float64) lettering {
	mid := q.centre()
	out := lettering{text: text, x: mid.X, high: 0.9 * high}
	if wide := plain().width(text) * out.high; !p.columns && wide > 0.92*(p.wide+p.gap) {
		out.high *= 0.92 * (p.wide + p.gap) / wide
	}
	switch {
	case p.numbers == inside:
		out.high *= 0.7
		out.y = q[2].Y - 0.5*out.high
	case p.columns && p.numbers == below:
		out.x, out.y, out.aligned = q[2].X+0.4*high, mid.Y+out.high/2, -1
	case p.columns:
		out.x, out.y, out.aligned = q[0].X-0.4*high, mid.Y+out.high/2, 1
	case p.numbers == below:
		out.y = q[2].Y + 0.35*high + out.high
	default:
		out.y = q[0].Y - 0.4*high
	}
	if p.columns && p.numbers != inside {
		if wide := plain().width(text) * out.high; wide > 3.1*high {
			out.high *= 3.1 * high / wide
		}
		return out
	}
	out.aligned = 0
	return out
}

// titleAt is an analyte's name.
func (p *plan) titleAt(i int, r row, high float64) lettering {
	a := &p.chart.Analytes[i]
	text := a.Name
	if a.Unit != a.Name && p.titles == above {
		text += " " + a.Unit
	}
	out := lettering{text: text, high: high, bold: true, aligned: -1}
	switch {
	case p.columns && p.titles == before: // over the column
		out.x, out.y, out.aligned = r.patch+p.tall/2, r.start-0.6*high, 0
		if wide := bold().width(text) * high; wide > 0.92*(p.tall+p.apart) {
			out.high *= 0.92 * (p.tall + p.apart) / wide
		}
	case p.titles == above:
		out.x, out.y = r.start, r.from+1.3*high
	default:
		out.x, out.y, out.bold = 0, r.patch+p.tall/2+high/2, false
	}
	return out
}
