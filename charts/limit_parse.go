package charts

import "strings"

// maxLimits is how many limits a file may hold.
const maxLimits = 1024

// ParseLimits reads a file of limits (format 1). It is as strict as
// [ParseChart], with the same errors: each is a [*FileError] that names the field.
func ParseLimits(data []byte) (LimitSet, error) {
	root, err := readJSON(data)
	if err != nil {
		return LimitSet{}, err
	}
	d := &decoder{}
	s := readSet(d, root)
	if d.err != nil {
		return LimitSet{}, d.err
	}
	return s, nil
}

func readSet(d *decoder, v *value) LimitSet {
	f, format := d.file(v, "set", "title", "note", "public_supply", "limits")
	s := LimitSet{Format: format, Name: f.fileName("set"), Title: f.line("title"), Note: f.prose("note")}
	public := f.truth("public_supply")
	list := f.need("limits")
	if list == nil {
		return s
	}
	for _, item := range d.items(list, maxLimits) {
		l := readLimit(d, item)
		l.Set, l.PublicSupply = s.Name, public
		if d.err == nil {
			refuseTwice(d, item, l, s.Limits)
		}
		if d.err != nil {
			return s
		}
		s.Limits = append(s.Limits, l)
	}
	if len(s.Limits) == 0 {
		d.fail(list.path(), "add one", "holds no limit")
	}
	return s
}

// refuseTwice refuses a second limit of one kind for an analyte at one time.
func refuseTwice(d *decoder, item *value, l Limit, before []Limit) {
	for i, o := range before {
		apart := l.Until != "" && o.From != "" && l.Until < o.From || o.Until != "" && l.From != "" && o.Until < l.From
		if strings.EqualFold(o.Analyte, l.Analyte) && o.Kind == l.Kind && !apart {
			d.fail(item.path(), "keep one, or give them dates", "is a second limit for %s at the same time, as is limits[%d]", quote(l.Analyte), i)
		}
	}
}

func readLimit(d *decoder, v *value) Limit {
	f := d.object(v, "authority", "year", "clause", "analyte", "also", "value", "value_from", "low", "high", "classes", "sum",
		"unit", "as", "kind", "basis", "from", "until", "source", "note")
	l := Limit{
		Authority: f.line("authority"), Year: f.whole("year", 1900, 2200, 0), Clause: f.line("clause"),
		Analyte: d.name(f.need("analyte")),
		Kind:    LimitKind(f.choice("kind", string(LimitGiven), string(LimitHealth), string(LimitAppearance), string(LimitTreatment), string(LimitIndicator), string(LimitClass), string(LimitGiven))),
		Basis:   Basis(f.choice("basis", string(BasisSample), string(BasisSample), string(BasisAverage), string(BasisPercentile))),
		From:    f.day("from"), Until: f.day("until"), Source: f.line("source"), Note: f.prose("note"),
	}
	for _, item := range f.list("also", 16) {
		l.Also = append(l.Also, d.name(item))
	}
	l.Sum = readSum(f)
	l.Unit = readUnit(f, l)
	readFigures(f, &l)
	if l.From != "" && l.Until != "" && l.Until < l.From {
		f.fail(f.by["until"].path(), "write the earlier day under from", "is before from, %s", l.From)
	}
	return l
}

// readUnit reads the unit of a limit, of which everything but a sum of ratios has one.
func readUnit(f fields, l Limit) Unit {
	if f.by["unit"] == nil && len(l.Sum) > 0 {
		return Unit{}
	}
	name := f.name(f.need("unit"))
	if f.err != nil {
		return Unit{}
	}
	text := name
	if as := f.label("as"); as != "" {
		text += " as " + as
	}
	u, err := ParseUnit(text)
	if err != nil {
		f.fail(f.by["unit"].path(), "write one such as mg/L, with as beside it", "%s", quote(text)+" cannot be used")
		return Unit{}
	}
	for _, a := range append([]string{l.Analyte}, l.Also...) {
		if s := substanceOf(a); u.lacksAs(s) {
			f.fail(f.at.field("as"), "write "+s.known(), "is missing, and %s needs it", quote(a))
		}
	}
	return u
}

// readFigures reads value, or low and high, or classes: one of the three.
func readFigures(f fields, l *Limit) {
	one, two, many := f.by["value"] != nil, f.by["low"] != nil || f.by["high"] != nil, f.by["classes"] != nil
	switch {
	case one && !two && !many:
		l.Value = readAbove(f, "value", 0)
		if f.by["value_from"] != nil {
			if l.ValueFrom = readAbove(f, "value_from", 0); l.ValueFrom >= l.Value {
				f.fail(f.by["value_from"].path(), "write the lower of the two there", "is not under value, %s", figure(l.Value))
			}
		}
	case two && !one && !many:
		l.Low = readAbove(f, "low", 0)
		l.High = readAbove(f, "high", l.Low)
	case many && !one && !two:
		l.Classes = readClasses(f)
	default:
		f.fail(f.at.path(), "write value, or low and high, or classes", "needs one of the three and no other")
	}
}

// readAbove reads a number that must be over another.
func readAbove(f fields, name string, least float64) float64 {
	v := f.need(name)
	x := f.number(v)
	if f.err == nil && x <= least {
		f.fail(v.path(), "write more than "+figure(least), "is %s", figure(x))
	}
	return x
}

func readClasses(f fields) (out []Class) {
	items := f.list("classes", maxSwatches)
	for i, item := range items {
		o := f.object(item, "name", "up_to")
		c := Class{Name: f.name(o.need("name"))}
		least := 0.0
		if i > 0 {
			least = out[i-1].UpTo
		}
		if i < len(items)-1 {
			c.UpTo = readAbove(o, "up_to", least)
		} else if o.by["up_to"] != nil {
			f.fail(o.by["up_to"].path(), "leave it out of the last class", "ends the last class")
		}
		out = append(out, c)
	}
	if len(out) < 2 {
		f.fail(f.by["classes"].path(), "write two or more", "holds %d", len(out))
	}
	return out
}

func readSum(f fields) (out []Share) {
	if f.by["sum"] == nil {
		return nil
	}
	for _, item := range f.list("sum", 8) {
		o := f.object(item, "analyte", "over", "unit", "as")
		s := Share{Analyte: f.name(o.need("analyte")), Over: readAbove(o, "over", 0)}
		s.Unit = readUnit(o, Limit{Analyte: s.Analyte})
		out = append(out, s)
	}
	if len(out) != 2 {
		f.fail(f.by["sum"].path(), "write the two analytes that are added", "holds %d", len(out))
	}
	return out
}
