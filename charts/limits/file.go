package limits

import (
	"strings"

	"padband/charts/strict"
	"padband/charts/units"
)

// maxLimits is how many limits a file may hold.
const maxLimits = 1024

// maxClasses is how many classes a limit may name.
const maxClasses = 64

// ParseLimits reads a file of limits (format 1). It is as strict as
// [ParseChart], with the same errors: each is a [*FileError] that names the field.
func ParseLimits(data []byte) (LimitSet, error) {
	root, err := strict.Parse(data)
	if err != nil {
		return LimitSet{}, err
	}
	d := &strict.Decoder{}
	s := readSet(d, root)
	if d.Err != nil {
		return LimitSet{}, d.Err
	}
	return s, nil
}

func readSet(d *strict.Decoder, v *strict.Value) LimitSet {
	f, format := d.File(v, "set", "title", "note", "public_supply", "limits")
	s := LimitSet{Format: format, Name: f.FileName("set"), Title: f.Line("title"), Note: f.Prose("note")}
	public := f.Truth("public_supply")
	list := f.Need("limits")
	if list == nil {
		return s
	}
	for _, item := range d.Items(list, maxLimits) {
		l := readLimit(d, item)
		l.Set, l.PublicSupply = s.Name, public
		if d.Err == nil {
			refuseTwice(d, item, l, s.Limits)
		}
		if d.Err != nil {
			return s
		}
		s.Limits = append(s.Limits, l)
	}
	if len(s.Limits) == 0 {
		d.Fail(list.Path(), "add one", "holds no limit")
	}
	return s
}

// refuseTwice refuses a second limit of one kind for an analyte at one time.
func refuseTwice(d *strict.Decoder, item *strict.Value, l Limit, before []Limit) {
	for i, o := range before {
		apart := l.Until != "" && o.From != "" && l.Until < o.From || o.Until != "" && l.From != "" && o.Until < l.From
		if strings.EqualFold(o.Analyte, l.Analyte) && o.Kind == l.Kind && !apart {
			d.Fail(
				item.Path(),
				"keep one, or give them dates",
				"is a second limit for %s at the same time, as is limits[%d]",
				strict.Quote(l.Analyte),
				i,
			)
		}
	}
}

func readLimit(d *strict.Decoder, v *strict.Value) Limit {
	f := d.Object(v, "authority", "year", "clause", "analyte", "also", "value", "value_from", "low", "high", "classes", "sum",
		"unit", "as", "kind", "basis", "from", "until", "source", "note")
	l := Limit{
		Authority: f.Line("authority"), Year: f.Whole("year", 1900, 2200, 0), Clause: f.Line("clause"),
		Analyte: d.Name(f.Need("analyte")),
		Kind: LimitKind(
			f.Choice(
				"kind",
				string(LimitGiven),
				string(LimitHealth),
				string(LimitAppearance),
				string(LimitTreatment),
				string(LimitIndicator),
				string(LimitClass),
				string(LimitGiven),
			),
		),
		Basis: Basis(f.Choice("basis", string(BasisSample), string(BasisSample), string(BasisAverage), string(BasisPercentile))),
		From:  f.Day("from"), Until: f.Day("until"), Source: f.Line("source"), Note: f.Prose("note"),
	}
	for _, item := range f.List("also", 16) {
		l.Also = append(l.Also, d.Name(item))
	}
	l.Sum = readSum(f)
	l.Unit = readUnit(f, l)
	readFigures(f, &l)
	if l.From != "" && l.Until != "" && l.Until < l.From {
		f.Fail(f.By["until"].Path(), "write the earlier day under from", "is before from, %s", l.From)
	}
	return l
}

// readUnit reads the unit of a limit, of which everything but a sum of ratios has one.
func readUnit(f strict.Fields, l Limit) units.Unit {
	if f.By["unit"] == nil && len(l.Sum) > 0 {
		return units.Unit{}
	}
	name := f.Name(f.Need("unit"))
	if f.Err != nil {
		return units.Unit{}
	}
	text := name
	if as := f.Label("as"); as != "" {
		text += " as " + as
	}
	u, err := units.Parse(text)
	if err != nil {
		f.Fail(f.By["unit"].Path(), "write one such as mg/L, with as beside it", "%s", strict.Quote(text)+" cannot be used")
		return units.Unit{}
	}
	for _, a := range append([]string{l.Analyte}, l.Also...) {
		if forms, lacks := u.LacksAs(a); lacks {
			f.Fail(f.At.Field("as"), "write "+forms, "is missing, and %s needs it", strict.Quote(a))
		}
	}
	return u
}

// readFigures reads value, or low and high, or classes: one of the three.
func readFigures(f strict.Fields, l *Limit) {
	one, two, many := f.By["value"] != nil, f.By["low"] != nil || f.By["high"] != nil, f.By["classes"] != nil
	switch {
	case one && !two && !many:
		l.Value = readAbove(f, "value", 0)
		if f.By["value_from"] != nil {
			if l.ValueFrom = readAbove(f, "value_from", 0); l.ValueFrom >= l.Value {
				f.Fail(f.By["value_from"].Path(), "write the lower of the two there", "is not under value, %s", strict.Figure(l.Value))
			}
		}
	case two && !one && !many:
		l.Low = readAbove(f, "low", 0)
		l.High = readAbove(f, "high", l.Low)
	case many && !one && !two:
		l.Classes = readClasses(f)
	default:
		f.Fail(f.At.Path(), "write value, or low and high, or classes", "needs one of the three and no other")
	}
}

// readAbove reads a number that must be over another.
func readAbove(f strict.Fields, name string, least float64) float64 {
	v := f.Need(name)
	x := f.Number(v)
	if f.Err == nil && x <= least {
		f.Fail(v.Path(), "write more than "+strict.Figure(least), "is %s", strict.Figure(x))
	}
	return x
}

func readClasses(f strict.Fields) (out []Class) {
	items := f.List("classes", maxClasses)
	for i, item := range items {
		o := f.Object(item, "name", "up_to")
		c := Class{Name: f.Name(o.Need("name"))}
		least := 0.0
		if i > 0 {
			least = out[i-1].UpTo
		}
		if i < len(items)-1 {
			c.UpTo = readAbove(o, "up_to", least)
		} else if o.By["up_to"] != nil {
			f.Fail(o.By["up_to"].Path(), "leave it out of the last class", "ends the last class")
		}
		out = append(out, c)
	}
	if len(out) < 2 {
		f.Fail(f.By["classes"].Path(), "write two or more", "holds %d", len(out))
	}
	return out
}

func readSum(f strict.Fields) (out []Term) {
	if f.By["sum"] == nil {
		return nil
	}
	for _, item := range f.List("sum", 8) {
		o := f.Object(item, "analyte", "over", "unit", "as")
		s := Term{Analyte: f.Name(o.Need("analyte")), Over: readAbove(o, "over", 0)}
		s.Unit = readUnit(o, Limit{Analyte: s.Analyte})
		out = append(out, s)
	}
	if len(out) != 2 {
		f.Fail(f.By["sum"].Path(), "write the two analytes that are added", "holds %d", len(out))
	}
	return out
}
