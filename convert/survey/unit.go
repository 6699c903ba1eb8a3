package survey

import (
	"math/big"
	"strings"
)

// unit is a unit of measure: how many of its kind's base unit it is. The base
// unit of lengths is the micrometre.
type unit struct {
	name string
	kind string // length, pressure, ... ; values convert within a kind only
	num  int64
	den  int64
}

func (u unit) factor() *big.Rat { return big.NewRat(u.num, max(u.den, 1)) }

// unitNames lists every accepted spelling in small letters without dots and
// spaces. An inch is 25.4 mm and a mile 1,609,344 mm, exactly.
func unitNames() map[string]unit {
	out := map[string]unit{}
	add := func(u unit, names ...string) {
		for _, n := range names {
			out[n] = u
		}
	}
	add(unit{"mm", "length", 1_000, 1}, "mm", "mms", "millimetre", "millimetres", "millimeter", "millimeters", "mil", "mils")
	add(unit{"cm", "length", 10_000, 1}, "cm", "cms", "centimetre", "centimetres", "centimeter", "centimeters")
	add(unit{"m", "length", 1_000_000, 1}, "m", "ms", "mtr", "mtrs", "metre", "metres", "meter", "meters")
	add(unit{"in", "length", 25_400, 1}, "in", "ins", "inch", "inches", `"`, "''", "″", "”")
	add(unit{"ft", "length", 304_800, 1}, "ft", "feet", "foot", "'", "′", "’")
	add(unit{"Pa", "pressure", 1, 1}, "pa", "n/m2", "n/m²", "n/sqm")
	add(unit{"kPa", "pressure", 1_000, 1}, "kpa", "kn/m2", "kn/m²", "kn/sqm")
	add(unit{"MPa", "pressure", 1_000_000, 1}, "mpa", "n/mm2", "n/mm²", "mn/m2")
	add(unit{"m/s", "speed", 1, 1}, "m/s", "mps", "metrespersecond")
	add(unit{"km/h", "speed", 10, 36}, "km/h", "kmh", "kph")
	add(unit{"mph", "speed", 1_609_344, 3_600_000}, "mph")
	add(unit{"N", "force", 1, 1}, "n", "newton", "newtons")
	add(unit{"kN", "force", 1_000, 1}, "kn")
	add(unit{"kg", "mass", 1, 1}, "kg", "kgs", "kilo", "kilos", "kilogram", "kilograms")
	add(unit{"g", "mass", 1, 1_000}, "g", "gram", "grams")
	add(unit{"kg/m3", "density", 1, 1}, "kg/m3", "kg/m³", "kgm3")
	add(unit{"%", "share", 1, 1}, "%", "percent", "pc")
	add(unit{"m2", "area", 1, 1}, "m2", "m²", "sqm")
	add(unit{"m/l", "coverage", 1, 1}, "m/l", "m/litre", "m/ltr")
	add(unit{"mm2/m", "opening", 1, 1}, "mm2/m", "mm²/m")
	return out
}

// unspaced takes dots and spaces out of a spelling.
var unspaced = strings.NewReplacer(" ", "", ".", "", "\u00A0", "")

// unitOf looks a spelling up.
func (v *vocabulary) unitOf(s string) (unit, bool) {
	if u, ok := v.units[s]; ok || s == "" {
		return u, ok
	}
	key := strings.ToLower(unspaced.Replace(s))
	u, ok := v.units[key]
	return u, ok
}

// splitUnit takes a unit off the end of a header: "Width (mm)", "Width, mm",
// "Width mm", "Width [m]", "Width in mm". Without one, ok is false.
func (v *vocabulary) splitUnit(header string) (base string, u unit, ok bool) {
	h := strings.TrimRight(tidy(header), " :.*")
	i := strings.LastIndexAny(h, " ([,_-")
	if strings.HasSuffix(h, ")") {
		i = strings.LastIndex(h, "(")
	} else if strings.HasSuffix(h, "]") {
		i = strings.LastIndex(h, "[")
	}
	if i < 0 {
		return h, unit{}, false
	}
	if u, ok = v.unitOf(strings.Trim(h[i:], " ()[],_-")); !ok {
		if j := strings.LastIndex(h, "/"); j > 0 {
			if u, ok = v.unitOf(h[j+1:]); ok {
				i = j
			}
		}
	}
	if !ok {
		return h, unit{}, false
	}
	base = strings.TrimRight(h[:i], " ,-_([")
	return strings.TrimSuffix(base, " in"), u, true
}
