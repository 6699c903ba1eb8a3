package report

import (
	"slices"

	"github.com/xuri/excelize/v2"
)

// look names a way a cell may appear. All looks of one workbook are made once.
type look int

const (
	plain look = iota
	blank
	wrapped
	faint
	small
	verdict   // OK or CHECK
	rightText // words in a column of numbers
	whole     // a whole number
	tenth     // a number with one decimal
	weighed   // a small number, to four decimals
	hundreds  // a number with two decimals and thousands set apart
	grouped   // a whole number with thousands set apart
	input
	inputHundreds
	header
	headerRight
	headerLine // of a list that is printed: it does not wrap
	headerLineRight
	heading
	link
	stopped
	checked
	noted
	totalText
	lack // what the order lacks
	totalNumber
	totalMoney
	firstText // first row of a section
	bigNumber
	bigMoney
	panel
	bigMark // a height to mark on the rod
	tick    // an empty box
	tickTop // the same over several rows
	tickSides
	tickFoot
	answer // a box to write in
	fillIn // a line to write on
	looks  // how many there are
)

const face = "Arial" // metric-compatible free faces exist for it everywhere

// Colours: a reader must never need them to understand, only to find.
const (
	inkFaint  = "595959"
	ruleFaint = "BFBFBF"
	fillHead  = "DCE6EC"
	fillInput = "FFF7D6"
	inkInput  = "1F3F9F"
	inkLink   = "0B4F9E"
	fillStop  = "F6C6C0"
	fillCheck = "FCE4B6"
	fillNote  = "DDEBF7"
)

func hairline() []excelize.Border {
	return []excelize.Border{{Type: "bottom", Color: ruleFaint, Style: 1}}
}

func boxed(style int, colour string) []excelize.Border {
	var out []excelize.Border
	for _, side := range []string{"left", "right", "top", "bottom"} {
		out = append(out, excelize.Border{Type: side, Color: colour, Style: style})
	}
	return out
}

func solid(colour string) excelize.Fill {
	return excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{colour}}
}

func font(size float64, bold bool, colour string) *excelize.Font {
	return &excelize.Font{Family: face, Size: size, Bold: bold, Color: colour}
}

func align(h, v string, wrap bool) *excelize.Alignment {
	return &excelize.Alignment{Horizontal: h, Vertical: v, WrapText: wrap}
}

func number(format string) excelize.Style {
	return excelize.Style{
		Font: font(10, false, "000000"), Border: hairline(),
		Alignment: align("right", "top", false), CustomNumFmt: &format,
	}
}

func words(f *excelize.Font, wrap bool) excelize.Style {
	a := align("left", "top", wrap)
	a.Indent = 1 // keeps clear of a number that ends at the cell before
	return excelize.Style{Font: f, Border: hairline(), Alignment: a}
}

// style returns the number of a look in this workbook.
func (b *book) style(l look) (int, error) {
	if id := b.styles[l]; id > 0 { // looked up for every cell; 0 is the workbook's own
		return id, nil
	}
	s := define(l)
	id, err := b.file.NewStyle(&s)
	if err != nil {
		return 0, err
	}
	b.styles[l] = id
	return id, nil
}

// define describes a look.
func define(l look) excelize.Style {
	if s, ok := tableLook(l); ok {
		return s
	}
	return printLook(l)
}

// tableLook describes the looks of tables.
func tableLook(l look) (excelize.Style, bool) {
	var s excelize.Style
	switch l {
	case plain, blank:
		s = words(font(10, false, "000000"), false)
	case wrapped:
		s = words(font(10, false, "000000"), true)
	case firstText:
		s = words(font(10, true, "000000"), false)
	case faint:
		s = words(font(9, false, inkFaint), true)
	case small:
		s = words(font(8, false, inkFaint), true)
	case rightText:
		s = words(font(10, false, "000000"), false)
		s.Alignment.Horizontal, s.Alignment.Indent = "right", 0
	case verdict:
		s = words(font(10, true, "000000"), false)
		s.Alignment.Horizontal, s.Alignment.Indent = "right", 0
	case whole:
		s = number("0")
	case tenth:
		s = number("0.0")
	case hundreds:
		s = number("#,##0.00")
	case weighed:
		s = number("#,##0.00##")
	case grouped:
		s = number("#,##0")
	case input, inputHundreds:
		s = number(map[look]string{input: "0.##", inputHundreds: "#,##0.00##"}[l])
		s.Fill, s.Font, s.Border = solid(fillInput), font(10, false, inkInput), boxed(1, "808080")
		s.Protection = &excelize.Protection{Locked: false}
	case header, headerRight, headerLine, headerLineRight:
		s = words(font(10, true, "000000"), l == header || l == headerRight)
		s.Fill, s.Border = solid(fillHead), []excelize.Border{{Type: "bottom", Color: "000000", Style: 2}}
		s.Alignment.Vertical = "bottom"
		if l == headerRight || l == headerLineRight {
			s.Alignment = align("right", "bottom", l == headerRight)
		}
	case link:
		s = words(font(10, false, inkLink), false)
		s.Font.Underline = "single"
	case stopped, checked, noted:
		s = words(font(10, l == stopped, "000000"), false)
		s.Fill = solid(map[look]string{stopped: fillStop, checked: fillCheck, noted: fillNote}[l])
	default:
		return s, false
	}
	return s, true
}

// printLook describes the looks of totals and of what is made to be printed.
func printLook(l look) excelize.Style {
	var s excelize.Style
	switch l {
	case totalText, totalNumber, totalMoney:
		s = number(map[look]string{totalText: "General", totalNumber: "#,##0", totalMoney: "#,##0.00"}[l])
		s.Font = font(10, true, "000000")
		s.Border = []excelize.Border{{Type: "top", Color: "000000", Style: 1}}
		if l == totalText {
			s.Alignment = align("left", "top", false)
		}
	case lack:
		s = words(font(10, true, "000000"), false)
		s.Border = nil
	case bigNumber, bigMoney:
		s = number(map[look]string{bigNumber: "#,##0", bigMoney: "#,##0.00"}[l])
		s.Font = font(12, true, "000000")
	case heading:
		s = words(font(11, true, "000000"), false)
		s.Alignment.Indent = 0
		s.Border = []excelize.Border{{Type: "bottom", Color: "000000", Style: 2}}
	case panel:
		s = words(font(10, false, "000000"), false)
		s.Border, s.Alignment.Indent = nil, 0
	case bigMark:
		s = number("0.#")
		s.NumFmt, s.CustomNumFmt = 0, nil
		s.Font = font(12, true, "000000")
	case answer:
		s = words(font(10, false, inkInput), true)
		s.Border, s.Protection = boxed(1, "808080"), &excelize.Protection{Locked: false}
	case fillIn:
		s = words(font(10, false, "000000"), false)
		s.Border = []excelize.Border{{Type: "bottom", Color: "000000", Style: 1}}
		s.Protection = &excelize.Protection{Locked: false}
	case tick, tickTop, tickSides, tickFoot:
		without := map[look][]string{tickTop: {"bottom"}, tickSides: {"top", "bottom"}, tickFoot: {"top"}}[l]
		s.Border = slices.DeleteFunc(boxed(1, "808080"), func(b excelize.Border) bool { return slices.Contains(without, b.Type) })
	}
	return s
}
