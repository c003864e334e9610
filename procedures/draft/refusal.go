package draft

import (
	"errors"
	"fmt"

	"evenpull/spec"
	"evenpull/spec/quantity"
)

// Refusal is why an answer is not taken, and what to write instead.
type Refusal struct{ What, Remedy string }

func (r *Refusal) Error() string { return r.What + "; " + r.Remedy }

func refuse(remedy, what string, args ...any) *Refusal {
	return &Refusal{fmt.Sprintf(what, args...), remedy}
}

// unreadable words a figure that could not be read.
func unreadable(text string, err error) *Refusal {
	var pe *quantity.ParseError
	if errors.As(err, &pe) {
		return refuse(pe.Remedy, "%s: %s", quote(text), pe.What)
	}
	return refuse("write a figure with its unit", "%s: %s", quote(text), err)
}

func quote(s string) string { return `"` + spec.Printable(s) + `"` }
