package bolt

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"evenpull/spec/near"
)

// Nut is the property class of a nut by ISO 898-2. Its number is a hundredth of the tensile
// strength, in MPa, of the strongest bolt it is for; a nut of that class or a higher one holds
// until such a bolt breaks.
type Nut struct {
	Name     string
	Number   int     // of the strongest bolt it is for: 8 for 8.8; 0 for a thin nut, which is for none
	ProofMPa float64 // least stress under proof load, on the stress area of the thread
}

// nuts are the classes of ISO 898-2:2012, and 9 of the edition before, from memory; proof stresses but of 9 read in print. The proof
// stress is the least over the sizes: it grows with the diameter.
var nuts = []Nut{
	{"04", 0, 380}, {"05", 0, 500},
	{"5", 5, 520}, {"6", 6, 600}, {"8", 8, 800}, {"9", 9, 900}, {"10", 10, 1040}, {"12", 12, 1140},
}

// NutNames lists the classes, the weakest first.
func NutNames() []string {
	names := make([]string, len(nuts))
	for i, n := range nuts {
		names[i] = n.Name
	}
	return names
}

// ParseNut reads the class of a nut: "8", "class 10", "|10|" as it stands on some. The class of a
// bolt is refused with the nut that goes with it.
func ParseNut(text string) (Nut, error) {
	bare := strings.Trim(strings.TrimSpace(strings.TrimPrefix(strings.TrimPrefix(strings.TrimPrefix(fold(text), "iso 898-2"), "nut"), "class")), "| ")
	bare = strings.TrimSpace(strings.TrimPrefix(bare, "class"))
	if i := slices.IndexFunc(nuts, func(n Nut) bool { return n.Name == bare }); i >= 0 {
		return nuts[i], nil
	}
	if c, err := ParseClass(bare); err == nil {
		if number := c.Number(); number > 0 {
			i := slices.IndexFunc(nuts, func(n Nut) bool { return n.Number >= number })
			return Nut{}, fmt.Errorf("%s is the class of a bolt; a nut that goes with it is %s", c.Name, nuts[i].Name)
		}
		return Nut{}, fmt.Errorf("%s is the class of a bolt, not of a nut of ISO 898-2", c.Name)
	}
	if meant := near.Best(bare, NutNames()); meant != "" {
		return Nut{}, fmt.Errorf("no class of nut is called %q; the nearest is %s", bare, meant)
	}
	return Nut{}, fmt.Errorf("no class of nut is called %q", bare)
}

// Number is what stands before the point of a class of ISO 898-1: 10 of 10.9; 0 for others.
func (c Class) Number() int {
	if c.Standard != iso898 {
		return 0
	}
	before, _, _ := strings.Cut(c.Name, ".")
	n, _ := strconv.Atoi(before) // every name of that standard begins with one
	return n
}

// For reports whether a nut holds until a bolt of a class breaks, and whether that is known: it
// is for the classes of ISO 898-1.
func (n Nut) For(c Class) (holds, known bool) {
	number := c.Number()
	return number > 0 && n.Number >= number, number > 0
}
