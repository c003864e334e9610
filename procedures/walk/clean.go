package walk

import (
	"fmt"
	"strings"
)

// cleanAfter are what may still be in or on a thing after work of a kind, by words
// the work is called with: common practice, no source.
var cleanAfter = []struct {
	words string
	ask   string
}{
	{"blast coat paint powder ceram anodi nitrid peen", "no media in oilways, threads chased, faces bare where sealant or clamp goes?"},
	{"plat chrom galvan", "no media in oilways, threads chased, faces bare and gauged where they fit?"},
	{"balanc grind bor rebor hon mill turn machin fac drill cut skim weld sleev insert", "no swarf or grit in oilways, bores washed until the rag stays white, edges broken?"},
	{"clean wash ultraso strip dip", "no residue in oilways, plugs back in, dry and oiled?"},
}

// CleanQuestion is what has to be true of a thing that came back from work before
// anything closes over it, worded for that work.
func CleanQuestion(work string) string {
	work = strings.ToLower(work)
	for _, c := range cleanAfter {
		for _, stem := range strings.Fields(c.words) {
			for _, word := range strings.Fields(work) {
				if strings.HasPrefix(word, stem) {
					return c.ask
				}
			}
		}
	}
	return cleanAfter[0].ask
}

// askClean asks it of a thing: yes is that it has been cleaned; a no is kept.
func askClean(c *thing) *Refusal {
	return &Refusal{What: fmt.Sprintf("%s came back from %s: %s", c.Name, c.Unclean, CleanQuestion(c.Unclean)), Remedy: "clean it, then say so",
		Yes: &Command{Do: Clean, Target: c.ID}, No: &Command{Do: Note, Text: fmt.Sprintf("%s is not clean yet after %s", c.Name, c.Unclean)},
		Ways: []Way{{Do: Clean, Target: c.ID}}}
}
