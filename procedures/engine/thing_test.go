package engine

import (
	"testing"

	"evenpull/procedures/walk"
	"evenpull/spec/ident"
)

// A thing is named as a person would: a bolt by its number, each of two with its place,
// and with how it and each of several were found.
func TestAThingIsNamedAsAPersonWould(t *testing.T) {
	bolt := Thing{Thing: ident.Fastener("B3", "M8x1.25"), Name: "rim bolt M8x1.25", Count: 1}
	shims := Thing{Thing: ident.Part("shim"), Name: "shim", Count: 2}
	at := func(t Thing, place string, facts walk.Facts, pieces ...walk.PieceFound) Thing {
		t.Place, t.Facts, t.Pieces = place, facts, pieces
		return t
	}
	for _, c := range []struct {
		t            Thing
		text, called string
	}{
		{bolt, "B3, rim bolt M8x1.25", "B3"},
		{at(bolt, "rear head", walk.Facts{walk.Condition: "stretched", walk.Box: "2"}), "rear head: B3, rim bolt M8x1.25: stretched, box 2", "rear head: B3"},
		{shims, "2 × shim", "shim"},
		{at(shims, "front head", nil, walk.PieceFound{Piece: "second", Facts: walk.Facts{walk.Condition: "bent"}}), "front head: 2 × shim; second: bent", "front head: shim"},
	} {
		if c.t.Text() != c.text || c.t.Called() != c.called {
			t.Errorf("it is %q, called %q; want %q, called %q", c.t.Text(), c.t.Called(), c.text, c.called)
		}
	}
}
