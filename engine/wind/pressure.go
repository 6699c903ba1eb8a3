// Package wind computes what the wind does to a wall: the peak velocity
// pressure of a site, the zones of a wall under suction and the pressures in
// them, by EN 1991-1-4:2005.
//
// Everything is in SI units: metres, metres a second, kilograms a cubic metre,
// pascals. Pressures are characteristic values, without a partial factor.
// Suction and pressure are both given as positive numbers.
//
// It covers rectangular buildings in plan up to 200 m without orography
// (co = 1) and the recommended values of the standard; a national annex that
// works from charts enters as a given peak pressure. It does not cover
// neighbouring taller buildings (annex A.4), free-standing walls, parapets or
// the funnelling between two buildings.
package wind

import (
	"fmt"
	"math"
)

// DensityEN is the air density in kg/m3 that EN 1991-1-4 4.5(1) note 2 recommends.
// The UK national annex, NA.2.18, takes 1.226, with which qb = 0.613 vb^2: give it
// as the site's.
const DensityEN = 1.25

// heightMost is zmax of EN 1991-1-4 4.3.2(1), in metres: the logarithmic
// profile is not given above it.
const heightMost = 200

// Site is the wind climate and the ground a building stands in. Give either
// the basic velocity and a terrain, or a peak pressure with its source; the
// given pressure wins if both are there.
type Site struct {
	Velocity float64 // vb of EN 1991-1-4 4.2, m/s, above 0 and at most 100, the UK map's value times its altitude factor
	Terrain  string  // category of table 4.1: 0, I, II, III or IV
	Density  float64 // of the air, kg/m3; 0: DensityEN

	Given  float64 // peak velocity pressure at the top of the building, Pa; 0: none
	Source string  // whose value Given is
}

// Peak is a peak velocity pressure with the steps that led to it. For a given
// pressure only Pressure and Basis are set.
type Peak struct {
	Pressure   float64 // qp, Pa
	Height     float64 // height used, m: zmin of the terrain where z is below it
	Basic      float64 // qb, Pa
	Roughness  float64 // cr, no unit
	Turbulence float64 // Iv, no unit
	Exposure   float64 // ce = qp/qb, no unit
	Basis      string  // clauses, or the source of a given value
}

// Peak returns the peak velocity pressure at height z above ground in metres:
// EN 1991-1-4 (4.3) to (4.8) with co = kI = 1. Below the terrain's zmin the
// value at zmin holds. It is an error if z is not above 0 or is above 200 m
// (4.3.2(1)), if the velocity, the density or the terrain is not one, or if a
// given pressure is below 100 Pa, which no site has: such a number is in
// another unit.
func (s Site) Peak(z float64) (Peak, error) {
	if s.Given != 0 {
		return s.given()
	}
	if err := s.check(z); err != nil {
		return Peak{}, err
	}
	z0, zmin, err := roughness(s.Terrain)
	if err != nil {
		return Peak{}, err
	}
	density := s.Density
	if density == 0 {
		density = DensityEN
	}
	p := Peak{Height: max(z, zmin), Basic: density / 2 * s.Velocity * s.Velocity}
	log := math.Log(p.Height / z0)
	p.Roughness = terrainFactor(z0) * log
	p.Turbulence = 1 / log
	p.Exposure = (1 + 7*p.Turbulence) * p.Roughness * p.Roughness
	p.Pressure = p.Exposure * p.Basic
	p.Basis = fmt.Sprintf("EN 1991-1-4 4.3 to 4.5, vb %g m/s, terrain %s, z %g m, air %g kg/m3",
		s.Velocity, s.Terrain, p.Height, density)
	return p, nil
}

func (s Site) given() (Peak, error) {
	if !(s.Given >= 100) || math.IsInf(s.Given, 0) {
		return Peak{}, fmt.Errorf("a given peak pressure of %g Pa is none: give it in Pa (1 kN/m2 is 1000 Pa)", s.Given)
	}
	source := s.Source
	if source == "" {
		source = "no source stated"
	}
	return Peak{Pressure: s.Given, Basis: "given: " + source}, nil
}

func (s Site) check(z float64) error {
	switch {
	case !(s.Velocity > 0 && s.Velocity <= 100):
		return fmt.Errorf("basic wind velocity %g m/s is not above 0 and at most 100", s.Velocity)
	case !(s.Density >= 0 && s.Density < 2):
		return fmt.Errorf("air density %g kg/m3 is not between 0 and 2", s.Density)
	case !(z > 0 && z <= heightMost):
		return fmt.Errorf("height %g m is not above 0 and at most %d m (EN 1991-1-4 4.3.2)", z, heightMost)
	}
	return nil
}

// roughness returns z0 and zmin in metres: EN 1991-1-4 table 4.1.
func roughness(terrain string) (z0, zmin float64, err error) {
	switch terrain {
	case "0":
		return 0.003, 1, nil
	case "I":
		return 0.01, 1, nil
	case "II":
		return 0.05, 2, nil
	case "III":
		return 0.3, 5, nil
	case "IV":
		return 1, 10, nil
	}
	return 0, 0, fmt.Errorf("terrain category %q is none of 0, I, II, III, IV (EN 1991-1-4 table 4.1)", terrain)
}

// terrainFactor is kr of EN 1991-1-4 (4.5); 0.05 m is z0 of category II.
func terrainFactor(z0 float64) float64 { return 0.19 * math.Pow(z0/0.05, 0.07) }
