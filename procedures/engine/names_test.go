package engine

import (
	"testing"

	"evenpull/procedures"
	"evenpull/spec"
	"evenpull/spec/ident"
)

// What is looked up in the tables of a procedure is what searching it finds.
func TestNamesAreFoundAsSearchingFindsThem(t *testing.T) {
	looked := 0
	for _, name := range (procedures.Library{}).Names() {
		p := bundled(t, name)
		n := namesOf(p)
		var asked []string
		for _, f := range p.Fasteners {
			asked = append(asked, f.ID, swapped(f.ID), f.ID+"x")
			if other := ident.Fastener(f.ID, "M3x0.5"); !n.has(fastenerThing(f).At("front")) || n.has(other) {
				t.Errorf("%s: has %s: %v; has %s: %v", name, f.ID, n.has(fastenerThing(f)), other, n.has(other))
			}
		}
		for _, part := range p.Parts {
			asked = append(asked, part.ID, part.Name, swapped(part.Name), part.Name+"x")
			if !n.has(ident.Part(part.ID)) || n.has(ident.Fastener(part.ID, "")) || n.has(ident.Part(part.ID+"x")) {
				t.Errorf("%s: has not %s, or one called like it", name, part.ID)
			}
		}
		for _, a := range asked {
			if n.fastener(a) != p.Fastener(a) || n.part(a) != p.Part(a) {
				t.Errorf("%s: %q is %v and %v, searched %v and %v", name, a, n.fastener(a), n.part(a), p.Fastener(a), p.Part(a))
			}
			looked++
		}
	}
	if looked < 500 {
		t.Errorf("only %d names were looked up", looked)
	}
}

// swapped has small letters for capitals and capitals for small ones.
func swapped(s string) string {
	b := []byte(s)
	for i, c := range b {
		if c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' {
			b[i] = c ^ 0x20
		}
	}
	return string(b)
}

// Of two bolts that differ in the case of a letter each is found as it is written.
func TestAnIDAsItIsWrittenComesFirst(t *testing.T) {
	p := *bundled(t, "flywheel-nut")
	one, other := *p.Fasteners[0], *p.Fasteners[0]
	one.ID, other.ID = "A1", "a1"
	for range 2 {
		p.Fasteners[0] = &one
		p.Fasteners = append(p.Fasteners[:1:1], &other)
		n := namesOf(&p)
		if n.fastener(one.ID) != p.Fasteners[0] || n.fastener(other.ID) != p.Fasteners[1] {
			t.Errorf("%s and %s are mixed up", one.ID, other.ID)
		}
		one.ID, other.ID = other.ID, one.ID
	}
}

// Of two parts the first is found that has the name, or whose id it is.
func TestTheFirstPartOfANameIsFound(t *testing.T) {
	p := &spec.Procedure{Parts: []*spec.Part{{ID: "spacer", Name: "shim"}, {ID: "shim", Name: "washer"}}}
	for _, name := range []string{"shim", "spacer", "washer"} {
		if got, want := namesOf(p).part(name), p.Part(name); got != want {
			t.Errorf("%s is %s, want %s", name, got.ID, want.ID)
		}
	}
}
