// Package engine turns a surveyed job into everything an installer of
// horizontal lap boards needs: course marks, battens, pieces, joints, a
// cutting plan, trims, fixings and an order.
//
// [Takeoff] is the one way in. It wires stages that know nothing of each
// other, each in a folder of its own below this one:
//
//	courses   heights to meet on a level line -> course marks
//	battens   where battens stand
//	boards    runs, notches and pieces of a wall's courses
//	layout    where joints fall and which stock board each piece comes from
//	cutting   the bare one-dimensional cutting-stock solver
//	wind      pressures and zones
//	fixing    fixings: places, loads, resistances
//	quantity  metres, pieces and packs
//	audit     the independent check of a result
//
// The engine reads and writes no files, looks at no clock and logs nothing.
// Equal jobs give equal results to the last byte.
package engine
