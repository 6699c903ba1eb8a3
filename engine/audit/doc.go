// Package audit checks a finished takeoff against the rules it should obey,
// from its geometry and its numbers alone. It is written apart from the code
// that plans: it shares no algorithm with it, takes small values of its own,
// and of package measure uses the types only, so that a fault in a stage or in
// a shared algorithm does not hide itself.
//
// [Check] answers with every [Fault] it finds, in the order of its input; none
// means that
//
//   - every point of the clad region that no void takes is covered by a piece
//     or lies in a declared joint's gap; laps are within their limits; no two
//     pieces of a course overlap; none enters a void or leaves the region;
//   - every joint has its gap and stands on a wide batten behind the boards'
//     whole height; stagger, repeat and least lengths hold or are flagged; no
//     batten stands in another;
//   - every piece is cut as often as it is wanted, from stock of its own code,
//     and what is sawn from a board, with kerfs and offcut, makes the board;
//   - no trim runs through an opening or the horns of its sill, and every strip is
//     fixed to battens, near its ends or flagged;
//   - every piece is fixed to every batten it crosses, each screw stands in
//     its piece and on its batten, and counts and order quantities recount;
//   - where a board stands off its batten at a fixing below a cut edge, or at its
//     foot on a slope, packers as thick as can be had stand there, and the screw
//     through them is long enough, or it is flagged;
//   - totals are the sums of their rows.
//
// # Rule codes
//
// Geometry: region, course, lap, shape, size, cut-out, rake, band, edge,
// outside, void, overlap, uncovered. Joints: joint-gap, joint-batten, stagger,
// repeat, short, batten-overlap. Fixings: screw-place, screw-end, batten-end, end-loose,
// screw-edge, screw-through, screw-missing, pre-drill, visible, two-screws,
// centres, packer, packer-thick, packer-screw, fixing-count, fixing-holds,
// batten-stud. Trims: trim-opening, strip-screw, strip-loose, trim-loose. Stock: mark, quantity, cut-length, cut-count, cut-stock,
// stock-named, pair, shared, board-fit, hand. Sums: order, pool, total.
//
// # Tolerance
//
// Level and upright lines are compared exactly. A point where a slope meets
// another line is kept to the micrometre, so a sloped edge may stand up to a
// micrometre off in x and in z; with the audit's own rounding of one more, two
// lines of slope s are taken to agree when, measured upright, they are within
// 2 + 2s micrometres for each of them that slopes. What is left uncovered so
// is below 12 square millimetres for 2 m of sloped edge at 45 degrees. Where a
// base is no whole millimetre, the first course's mark may stand less than one
// above it.
package audit
