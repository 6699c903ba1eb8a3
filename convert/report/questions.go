package report

import (
	"context"
	"io"
)

// Question is one question to the customer about the survey.
type Question struct{ Plot, Wall, Sheet, Cell, Read, Wrong, Ask string }

// WriteQuestions writes a workbook of nothing but the questions in the input,
// made to be printed and sent. Of the result only the job's name is used.
func WriteQuestions(ctx context.Context, w io.Writer, in Input) (err error) {
	in.Survey = nil
	b, err := open(in)
	if err != nil {
		return err
	}
	defer func() {
		if e := b.file.Close(); err == nil {
			err = e
		}
	}()
	s := planned{want: "Questions", sheet: b.names.take("Questions"), write: (*book).writeQuestions}
	if err := b.newSheet(s.sheet); err != nil {
		return err
	}
	if err := b.file.DeleteSheet("Sheet1"); err != nil {
		return err
	}
	return b.finish(ctx, w, []planned{s})
}

func (b *book) writeQuestions(sheet string) error {
	columns := []column[Question]{
		{"No", 5, func(_ Question, at int) cell { return count(at - 1) }},
		{"Plot", 9, func(q Question, _ int) cell { return long(q.Plot) }},
		{"Wall", 13, func(q Question, _ int) cell { return long(q.Wall) }},
		{"Sheet", 12, func(q Question, _ int) cell { return long(q.Sheet) }},
		{"Cell", 7, func(q Question, _ int) cell { return text(q.Cell) }},
		{"What was read", 18, func(q Question, _ int) cell { return long(orWords(shortened(q.Read, sayMost), "(blank)")) }},
		{"Question", 50, func(q Question, _ int) cell { return long(q.Wrong + "\n" + q.Ask) }},
		{"Answer", 36, func(Question, int) cell { return cell{l: answer} }},
	}
	return table[Question]{sheet: sheet, name: "Questions", rows: b.in.Questions, columns: columns}.write(b)
}
