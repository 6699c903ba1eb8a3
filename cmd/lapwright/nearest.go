package main

// nearest returns the word that a mistyped one was probably meant to be, or
// "" if none is near enough: two letters changed, added, dropped or swapped at
// most, and fewer than half of the word.
func nearest(word string, words []string) string {
	best, least := "", 3
	for _, w := range words {
		if d := distance([]rune(word), []rune(w)); d < least && 2*d < len(w)+1 {
			best, least = w, d
		}
	}
	return best
}

// distance counts the letters to change, add, drop or swap with a neighbour
// to make one word of another (the restricted Damerau-Levenshtein distance).
func distance(a, b []rune) int {
	rows := make([][]int, len(a)+1)
	for i := range rows {
		rows[i] = make([]int, len(b)+1)
		rows[i][0] = i
	}
	for j := range rows[0] {
		rows[0][j] = j
	}
	for i := 1; i <= len(a); i++ {
		for j := 1; j <= len(b); j++ {
			change := rows[i-1][j-1]
			if a[i-1] != b[j-1] {
				change++
			}
			rows[i][j] = min(change, rows[i-1][j]+1, rows[i][j-1]+1)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				rows[i][j] = min(rows[i][j], rows[i-2][j-2]+1)
			}
		}
	}
	return rows[len(a)][len(b)]
}
