package drawing

import "bytes"

// shade is how much ink a pixel has.
type shade uint8

const (
	paper shade = iota
	mid
	dark
	black
)

// inks is how much ink that is, of 255. Letters and slopes are smooth by the
// shades between paper and black. At 220 pixels an inch four print as sixteen
// do, for two thirds of the time and of the space.
var inks = [...]int{paper: 0, mid: 119, dark: 170, black: 255}

// nearest is the shade of so much ink. Mid begins a little early: a thin line
// that lies half on each of two rows must not break there.
var nearest = func() (out [256]shade) {
	for ink := range out {
		switch {
		case ink < 52:
		case ink < (inks[mid]+inks[dark])/2:
			out[ink] = mid
		case ink < (inks[dark]+inks[black])/2:
			out[ink] = dark
		default:
			out[ink] = black
		}
	}
	return out
}()

// blend is the shade of a pixel that ink covers so far, of 255.
func blend(was, ink shade, coverage int) shade {
	return nearest[(inks[was]*(255-coverage)+inks[ink]*coverage)/255]
}

// A word is as many pixels as go into it.
const (
	shadeBits  = 2
	wordPixels = 64 / shadeBits
	ones       = 0x5555_5555_5555_5555 // the lower bit of each
)

// wordOf is a word of pixels of one shade.
func wordOf(s shade) uint64 { return uint64(s) * ones }

// covered returns both bits of the pixels that have any ink.
func covered(word uint64) uint64 { return (word | word>>1) & ones * uint64(black) }

// shift is how far a pixel of a word lies from its lowest bits.
func shift(pixel int) int { return 64 - shadeBits*(pixel+1) }

// shadeAt and setShade read and write a pixel of a word.
func shadeAt(word uint64, pixel int) shade { return shade(word >> shift(pixel) & uint64(black)) }

func setShade(word *uint64, pixel int, s shade) {
	*word = *word&^(uint64(black)<<shift(pixel)) | uint64(s)<<shift(pixel)
}

// blank and whole are the coverage of a word of pixels, none of it or all.
var blank, whole = make([]uint8, wordPixels), bytes.Repeat([]uint8{255}, wordPixels)

// cover puts ink on up to a word of pixels, on each so far as its coverage says,
// of 255.
func cover(word *uint64, coverage []uint8, ink shade) {
	switch {
	case bytes.Equal(coverage, blank):
		return
	case bytes.Equal(coverage, whole):
		*word = wordOf(ink)
		return
	}
	for pixel, a := range coverage {
		switch a {
		case 0:
		case 255:
			setShade(word, pixel, ink)
		default:
			setShade(word, pixel, blend(shadeAt(*word, pixel), ink, int(a)))
		}
	}
}

// blacken puts black on a word of pixels as a mask covers them.
func blacken(word *uint64, mask uint64) {
	if *word&covered(mask) == 0 { // as nearly all letters: on bare paper the mask is the shade
		*word |= mask
		return
	}
	for pixel := range wordPixels {
		if a := shadeAt(mask, pixel); a != paper {
			setShade(word, pixel, blend(shadeAt(*word, pixel), black, inks[a]))
		}
	}
}

// mask is a small picture of coverage, as a canvas packs it.
type mask struct {
	each  int // words a row
	words []uint64
}

// maskOf packs coverage whose rows are so many pixels wide.
func maskOf(coverage []uint8, w int) mask {
	m := mask{each: (w + wordPixels - 1) / wordPixels}
	for ; len(coverage) > 0; coverage = coverage[w:] {
		for x := 0; x < w; x += wordPixels {
			var word uint64
			cover(&word, coverage[x:min(x+wordPixels, w)], black)
			m.words = append(m.words, word)
		}
	}
	return m
}

// stamp puts black where a mask covers the paper, its left top corner at x, y.
func (c *canvas) stamp(m mask, x, y int) {
	pixel := x & (wordPixels - 1)
	at, shift := (x-pixel)/wordPixels, shadeBits*pixel
	for words := m.words; len(words) > 0; words = words[m.each:] {
		if y >= 0 && y < c.h {
			stampRow(c.row(y), words[:m.each], at, shift)
		}
		y++
	}
}

// stampRow puts a row of a mask on a row of the canvas, from a word on, so many
// bits further right.
func stampRow(row, words []uint64, at, shift int) {
	over := uint64(0) // what goes into the next word
	for _, w := range words {
		if at >= 0 && at < len(row) {
			blacken(&row[at], over|w>>shift)
		}
		over = w << (64 - shift)
		at++
	}
	if at >= 0 && at < len(row) {
		blacken(&row[at], over)
	}
}
