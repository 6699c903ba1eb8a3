package book

// Refusal is why a file cannot be read: a fault of the file, not of this
// program. Missing tells a file that is not there from one that is no use.
type Refusal struct {
	File    string
	Missing bool
	What    string // what is wrong with it
	Do      string // what to do about it
}

// Error returns the whole sentence.
func (r *Refusal) Error() string { return r.File + " " + r.What + ". " + r.Do + "." }

func refuse(what, do string) *Refusal { return &Refusal{What: what, Do: do} }

func damaged(what string) *Refusal {
	return refuse("is damaged ("+what+")", "Open it in the spreadsheet program, let it be repaired, save it under a new name and use that")
}
