package walk

// Paper is the fact, "yes", on an event that was ticked on a work card and
// entered afterwards: its time is that of entering, and that of the work is not
// known. Waits and the sealant's clock run by the time of entering.
const Paper = "paper"

// OnPaper marks a command as entered from a work card, where it says that
// something was done.
func OnPaper(c Command) Command {
	switch c.Do {
	case Confirm, Measure, Yes, Renew:
		return c.With(map[string]string{Paper: "yes"})
	}
	return c
}

// FromPaper reports whether facts are those of something entered from a work card.
func FromPaper(facts map[string]string) bool { return facts[Paper] == "yes" }
