// Package cutting solves the one-dimensional cutting-stock problem: which
// pieces to cut from which bars so that the bars cost least. It knows nothing
// of boards or walls and stands alone.
package cutting
