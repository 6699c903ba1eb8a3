package fixing

import (
	"fmt"
	"math"

	"lapwright/engine/measure"
)

// Timber is what a fixing is driven into, for EN 1995-1-1. The zero value
// lacks only its class or density.
type Timber struct {
	Class    string  // EN 338 softwood: C14 to C30
	Density  float64 // characteristic, kg/m3, as declared; 0: by the class
	Service  int     // service class 1, 2 or 3 of EN 1995-1-1 2.3.1.3; 0: 3, on the safe side
	Duration string  // permanent, long, medium, short, instantaneous; blank: short, as 2.3.1.2 has wind
	Gamma    float64 // partial factor of connections, table 2.3; 0: 1.3
}

// Strength is a design resistance of one fixing: declared, or computed here.
type Strength struct {
	Design float64 // N, at the ultimate limit state; 0: not declared
	Basis  string  // the clause, or who declares it
}

// Fastener is a smooth-shank wood screw or, if Nail, a smooth round nail,
// driven across the grain.
type Fastener struct {
	Nail        bool
	Diameter    measure.Length // outer, of the thread; of a nail its shank
	Inner       measure.Length // of the thread; 0: not known
	Head        measure.Length // diameter; 0: not known
	Penetration measure.Length // into the timber: of a screw the thread there, of a nail its point side
}

// density returns rho_k in kg/m3: EN 338 table 1 (from memory; C18 read).
func (t Timber) density() (float64, error) {
	switch {
	case t.Density >= 200 && t.Density <= 1000:
		return t.Density, nil
	case t.Density != 0:
		return 0, fmt.Errorf("timber density %g kg/m3 is not between 200 and 1000", t.Density)
	}
	switch t.Class {
	case "C14":
		return 290, nil
	case "C16":
		return 310, nil
	case "C18":
		return 320, nil
	case "C20":
		return 330, nil
	case "C22":
		return 340, nil
	case "C24":
		return 350, nil
	case "C27":
		return 360, nil
	case "C30":
		return 380, nil
	}
	return 0, fmt.Errorf("timber class %q is none of C14, C16, C18, C20, C22, C24, C27, C30 (EN 338): declare its density", t.Class)
}

// kmod is EN 1995-1-1 table 3.1 for solid timber (from memory).
func (t Timber) kmod() (float64, error) {
	column := 1 // service classes 1 and 2
	switch t.Service {
	case 1, 2:
		column = 0
	case 0, 3:
	default:
		return 0, fmt.Errorf("service class %d is none of 1, 2, 3 (EN 1995-1-1 2.3.1.3)", t.Service)
	}
	switch t.Duration {
	case "permanent":
		return [2]float64{0.60, 0.50}[column], nil
	case "long":
		return [2]float64{0.70, 0.55}[column], nil
	case "medium":
		return [2]float64{0.80, 0.65}[column], nil
	case "short", "":
		return [2]float64{0.90, 0.70}[column], nil
	case "instantaneous":
		return [2]float64{1.10, 0.90}[column], nil
	}
	return 0, fmt.Errorf("load duration %q is none of permanent, long, medium, short, instantaneous", t.Duration)
}

// Design turns a characteristic resistance in N into its design value, kmod
// Rk / gammaM of EN 1995-1-1 (2.17). It is an error if the resistance is not
// above 0 or service class, duration or partial factor is none.
func (t Timber) Design(characteristic float64, basis string) (Strength, error) {
	k, err := t.kmod()
	if err != nil {
		return Strength{}, err
	}
	gamma := t.Gamma
	if gamma == 0 {
		gamma = 1.3
	}
	if !(gamma >= 1 && gamma < 10) {
		return Strength{}, fmt.Errorf("partial factor %g is not between 1 and 10", gamma)
	}
	if !(characteristic > 0) || math.IsInf(characteristic, 0) {
		return Strength{}, fmt.Errorf("a characteristic resistance of %g N is none", characteristic)
	}
	return Strength{
		Design: k * characteristic / gamma,
		Basis:  fmt.Sprintf("%s, kmod %g, gammaM %g", basis, k, gamma),
	}, nil
}

// Withdrawal returns the resistance to being drawn out of the timber: EN
// 1995-1-1 8.7.2 for a screw, 8.3.2 for a nail. It is an error if the clause
// does not reach the fastener (a screw thinner than 6 or thicker than 12 mm,
// too little penetration, a nail under a lasting load): then a value must be
// declared.
func (f Fastener) Withdrawal(t Timber) (Strength, error) {
	rho, err := t.density()
	if err != nil {
		return Strength{}, err
	}
	if f.Nail {
		if t.Duration == "permanent" || t.Duration == "long" {
			return Strength{}, fmt.Errorf("a smooth nail may not hold a %s load by its shank (EN 1995-1-1 8.3.2(2)): declare another fixing", t.Duration)
		}
		rk, err := f.nailWithdrawal(rho)
		if err != nil {
			return Strength{}, err
		}
		return t.Design(rk, "EN 1995-1-1 8.3.2")
	}
	rk, err := f.screwWithdrawal(rho)
	if err != nil {
		return Strength{}, err
	}
	return t.Design(rk, "EN 1995-1-1 8.7.2")
}

// screwWithdrawal returns the characteristic withdrawal of one screw at right
// angles to the grain in N: EN 1995-1-1 (8.38) to (8.40), where at 90 degrees
// the divisor 1.2 cos2 + sin2 is 1.
func (f Fastener) screwWithdrawal(rho float64) (float64, error) {
	d, lef := f.Diameter.Millimetres(), f.Penetration.Millimetres()
	if d < 6 || d > 12 {
		return 0, fmt.Errorf("EN 1995-1-1 8.7.2 holds for screws of 6 to 12 mm, not %g mm: declare the withdrawal resistance", d)
	}
	if f.Penetration < 6*f.Diameter {
		return 0, fmt.Errorf("a %g mm screw needs 6 d = %g mm of thread in the timber, not %g (EN 1995-1-1 8.7.2(3)): declare the withdrawal resistance", d, 6*d, lef)
	}
	if f.Inner != 0 && (10*f.Inner < 6*f.Diameter || 100*f.Inner > 75*f.Diameter) {
		return 0, fmt.Errorf("inner diameter %v mm is not 0.6 to 0.75 of %g mm (EN 1995-1-1 8.7.2(4)): declare the withdrawal resistance", f.Inner, d)
	}
	faxk := 0.52 * math.Pow(d, -0.5) * math.Pow(lef, -0.1) * math.Pow(rho, 0.8)
	return faxk * d * lef * min(d/8, 1), nil
}

// nailWithdrawal returns the characteristic withdrawal of a smooth nail in N:
// EN 1995-1-1 (8.24) and (8.25), full from 12 d of penetration and less by
// tpen/4d - 2 down to 8 d (8.3.2(7)).
func (f Fastener) nailWithdrawal(rho float64) (float64, error) {
	d, tpen := f.Diameter.Millimetres(), f.Penetration.Millimetres()
	if f.Diameter <= 0 || d > 8 {
		return 0, fmt.Errorf("EN 1995-1-1 8.3 holds for nails up to 8 mm, not %g mm: declare the withdrawal resistance", d)
	}
	if f.Penetration < 8*f.Diameter {
		return 0, fmt.Errorf("a %g mm smooth nail needs 8 d = %g mm in the timber, not %g (EN 1995-1-1 8.3.2(7)): declare the withdrawal resistance", d, 8*d, tpen)
	}
	full := 20e-6 * rho * rho * d * tpen
	return full * min(1, tpen/(4*d)-2), nil
}

// HeadPull returns the resistance of the head to being pulled through timber
// t, such as a batten nailed to a stud: 70e-6 rho^2 dh^2 of EN 1995-1-1 (8.26)
// and (8.24). It says nothing of a fibre-cement board, whose own pull-through
// is declared. It is an error if the head is not between 1 and 6 diameters.
func (f Fastener) HeadPull(t Timber) (Strength, error) {
	rho, err := t.density()
	if err != nil {
		return Strength{}, err
	}
	if f.Diameter <= 0 || f.Head < f.Diameter || f.Head > 6*f.Diameter {
		return Strength{}, fmt.Errorf("a head of %v mm on a fastener of %v mm is none", f.Head, f.Diameter)
	}
	dh := f.Head.Millimetres()
	return t.Design(70e-6*rho*rho*dh*dh, "EN 1995-1-1 8.3.2, head in timber")
}
