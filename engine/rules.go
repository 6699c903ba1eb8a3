package engine

import "lapwright/engine/measure"

// Rules are the settable limits of a job. Lengths are in the wall's plane.
// [DefaultRules] gives the defaults with their sources; a zero Rules is not
// usable.
type Rules struct {
	LapLeast, LapMost measure.Length
	GaugeStepMost     measure.Length // between two stretches of one line
	GroundClearance   measure.Length
	VentilationGap    measure.Length
	SoffitGap         measure.Length // below a soffit or abutment, upright
	LevelTolerance    measure.Length // two heights nearer than this are level
	StripLeast        measure.Length // of a strip left by a notch or a rip

	BattenCentres   measure.Length
	BattenWidth     measure.Length
	WideBattenWidth measure.Length
	BattenDepth     measure.Length
	CavityLeast     measure.Length

	JointGap     measure.Length
	StaggerBays  int
	JointRepeat  int            // the same batten joints again only every so many courses
	PieceLeast   measure.Length // 0: one bay
	WholeCourses bool           // a course that one board spans is not jointed, whatever that costs
	Kerf         measure.Length
	TrimJointLap measure.Length // by which a long trim's joint keeps off board joints
	TrimLeast    measure.Length // least length of a trim joined of several

	AllowExternal, AllowInternal, AllowAbutment, AllowOpenEnd measure.Length
	AllowJamb, AllowLinedJamb, AllowVerge                     measure.Length

	PreDrillWithin     measure.Length
	EndDistanceLeast   measure.Length
	BattenEndLeast     measure.Length // of a board's fixing from the end of its batten
	EdgeDistance       measure.Length // of the fixing line below a board's top edge
	TrimFixing         measure.Length // centres
	StripFixing        measure.Length
	BattenFixing       measure.Length
	PenetrationLeast   measure.Length
	RevealTrims        measure.Length // taken off the width of a reveal board
	VoidThreshold      float64        // m2, openings up to it are not deducted when measured
	MembraneLap        measure.Length
	TapeSpare          float64 // per cent; 0: SpareOther
	PaintCoverage      float64 // m of cut edge a litre
	SpareCut           float64 // per cent on boards, trims and battens
	SpareOther         float64 // per cent on what is not cut from stock
	VentilationOpening float64 // mm2 a metre run wanted at base and top
	WallSheetsMost     int
	CentresTried       []measure.Length
}

// DefaultRules returns the defaults. CP marks common practice with no
// published source; MEM a value from memory, not read again.
func DefaultRules() Rules {
	mm := measure.MM
	return Rules{
		LapLeast:        mm(30),  // CP
		LapMost:         mm(50),  // CP
		GaugeStepMost:   mm(10),  // CP
		GroundClearance: mm(150), // CP; Approved Document C for the damp course, MEM
		VentilationGap:  mm(10),  // CP
		SoffitGap:       mm(10),  // CP
		LevelTolerance:  mm(25),  // CP
		StripLeast:      mm(50),  // CP

		BattenCentres:   mm(600), // CP; Timber Decking and Cladding Association: 600 normal
		BattenWidth:     mm(50),  // CP
		WideBattenWidth: mm(75),  // CP
		BattenDepth:     mm(38),  // CP
		CavityLeast:     mm(30),  // CP

		JointGap:     mm(2),   // CP
		StaggerBays:  1,       // CP
		JointRepeat:  2,       // CP
		Kerf:         mm(4),   // CP
		TrimJointLap: mm(100), // CP
		TrimLeast:    mm(300), // CP: room for two fixings at the usual centres

		AllowExternal:  mm(38),  // CP: the batten's depth, boards stop at the trim
		AllowInternal:  mm(-60), // CP: batten depth, two boards where they lap, and a little air
		AllowAbutment:  mm(-10), // CP
		AllowOpenEnd:   0,
		AllowJamb:      mm(-10), // CP: the gap round an opening
		AllowLinedJamb: mm(-10), // CP
		AllowVerge:     mm(-10), // CP, measured upright

		PreDrillWithin:     mm(20),  // CP
		EndDistanceLeast:   mm(12),  // CP
		BattenEndLeast:     mm(20),  // CP: as at a level top, where battens end with the board
		EdgeDistance:       mm(20),  // TRADA: at least 20 mm from a board's end; MEM for the edge
		TrimFixing:         mm(300), // CP
		StripFixing:        mm(300), // CP
		BattenFixing:       mm(400), // CP
		PenetrationLeast:   mm(25),  // CP
		RevealTrims:        mm(10),  // CP
		VoidThreshold:      1.0,     // RICS NRM2, MEM
		MembraneLap:        mm(150), // CP
		PaintCoverage:      60,      // CP
		SpareCut:           0,
		SpareOther:         5,    // CP
		VentilationOpening: 5000, // CP
		WallSheetsMost:     60,
		CentresTried:       []measure.Length{mm(600), mm(450), mm(400), mm(300)}, // CP
	}
}

// PieceLeastFor returns the least length of a piece on a wall of the given
// batten centres: the rule, or one bay where the rule is blank.
func (r Rules) PieceLeastFor(centres measure.Length) measure.Length {
	if r.PieceLeast > 0 {
		return r.PieceLeast
	}
	return centres
}
