package read

import (
	"fmt"
	"strings"
	"testing"
)

// Each file is one over a bound; the problem stands where the bound is crossed.
func TestReadRefusesMoreThanAPersonCouldWalk(t *testing.T) {
	bolts := hostileHead + hostileGroup + "[group.g.at]\n" + many("B#=[#,0]\n", MaxFasteners)
	lines := strings.Count(bolts, "\n")
	pass := "[[pass]]\nname=\"p#\"\ntorque=\"100 %\"\ngroups=[\"g\"]\n"
	steps := func(n int) string {
		return bolts + "[[pass]]\nname=\"p\"\ngroups=[\"g\"]\neach=[" + strings.Repeat(`{torque="22 Nm"},`, n) + "]\n"
	}
	cases := []struct{ name, text, want string }{
		{"20 passes of 10 000", bolts + many(pass, 20), ""},
		{"21 passes of 10 000", bolts + many(pass, 21), fmt.Sprintf(`f:%d:3: with pass "p20" there are 210000 stages, more than 200000; split the procedure: fewer fasteners, passes or steps`, lines+81)},
		{"20 steps of 10 000", steps(20), ""},
		{"21 steps of 10 000", steps(21), fmt.Sprintf(`f:%d:3: with pass "p" there are 210000 stages, more than 200000; split the procedure: fewer fasteners, passes or steps`, lines+1)},
		{"a key of 101 names", strings.Repeat("a.", 100) + "b = 1", "f:1:201: more than 100 names in one key; no key of this format has more than four"},
	}
	for _, c := range cases {
		_, problems := Procedure("f", []byte(c.text))
		if got := problems.Errors().Error(); got != c.want {
			t.Errorf("%s: got %q, want %q", c.name, got, c.want)
		}
	}
}

// Many questions in the same words still get ids of their own, counted up.
func TestReadNumbersIDsOfTheSameWords(t *testing.T) {
	text := hostileHead + hostileGroup + "at={A=[0,0]}\n[[pass]]\nname=\"p\"\ntorque=\"22 Nm\"\ngroups=[\"g\"]\n" +
		"[[check]]\nafter=\"p\"\nid=\"clean-3\"\nask=\"Dry?\"\n" + strings.Repeat("[[check]]\nafter=\"p\"\nask=\"Clean?\"\n", 3)
	p, problems := Procedure("f", []byte(text))
	if p == nil {
		t.Fatal(problems)
	}
	var ids []string
	for _, c := range p.Checks {
		ids = append(ids, c.ID)
	}
	if got, want := strings.Join(ids, " "), "clean-3 clean clean-2 clean-4"; got != want {
		t.Errorf("ids %s, want %s", got, want)
	}
}
