package session

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"evenpull/procedures"
	"evenpull/procedures/walk"
)

func (r *room) board() Board {
	r.Helper()
	b, err := r.Board()
	if err != nil {
		r.Fatal(err)
	}
	return b
}

func (b Board) walk(t *testing.T, id string) OpenWalk {
	t.Helper()
	for _, w := range b.Open {
		if w.ID == id {
			return w
		}
	}
	t.Fatalf("%s is not among the open walks %+v", id, b.Open)
	return OpenWalk{}
}

// The sheet that a walk is listed under is the one that goes on with it when it is
// asked for on its engine, and no other: a name alone is not enough.
func TestAnOpenWalkIsListedUnderTheSheetThatGoesOnWithIt(t *testing.T) {
	r := newRoom(t)
	r.sheet("own/cover.toml", cover)
	const own = "cover"
	away := r.sheet("away/cover.toml", cover)
	bundled := procedures.Bundled()[0]
	tests := []struct {
		name  string
		q     Request
		after func() // what happens to its file since
		want  string
	}{
		{"a bundled one", Request{Procedure: bundled, Engine: "1"}, nil, bundled},
		{"one's own", Request{Procedure: own, Engine: "2"}, nil, own},
		{"the same text elsewhere", Request{Procedure: away, Engine: "3"}, nil, ""},
		{"at one of two places", Request{Procedure: own, Engine: "4", Place: "front"}, nil, ""},
		{"one's own that was edited since", Request{Procedure: own, Engine: "5"}, func() { r.sheet("own/cover.toml", cover+"# again\n") }, ""},
	}
	for _, tt := range tests {
		id := r.opens(tt.q).ID
		if tt.after != nil {
			tt.after()
		}
		b := r.board()
		got := b.walk(t, id).Sheet
		if got != tt.want {
			t.Errorf("%s: listed under %q, want %q", tt.name, got, tt.want)
		}
		for _, s := range b.Sheets {
			if s.Ref != own && s.Ref != bundled {
				continue
			}
			again, err := r.Open(Request{Procedure: s.Ref, Engine: tt.q.Engine})
			if err == nil {
				again.Close()
			}
			if on := err == nil && again.ID == id; on != (s.Ref == got) {
				t.Errorf("%s: asking for %s on its engine goes on with it: %v; listed under %q", tt.name, s.Ref, on, got)
			}
			if err == nil && again.ID != id { // begun anew: out of the way
				os.Remove(r.Store.Path(again.ID))
			}
		}
	}
}

func TestTheBoardHasWhatThereIsToChooseFrom(t *testing.T) {
	r := newRoom(t)
	r.sheet("own/cover.toml", cover)
	r.sheet("own/bad.toml", "format = 1\n")
	const own, bad = "cover", "bad"
	open := r.opens(Request{Procedure: own, Engine: "7"})
	over := r.does(Request{Procedure: own, Engine: "8"}, walk.Command{Do: walk.Stop, Text: "sold"})
	end := r.does(Request{Procedure: own, Engine: "9"}, walk.Command{Do: walk.Confirm}, walk.Command{Do: walk.Confirm})
	held, err := r.Open(Request{Procedure: own, Engine: "10"})
	if err != nil {
		t.Fatal(err)
	}
	defer held.Close()
	b := r.board()
	if w := b.walk(t, open.ID); !strings.Contains(w.Next, "M1") || w.HeldBy != "" || w.Confirmed != 0 || w.Stages != 2 {
		t.Errorf("the open walk: %+v", w)
	}
	if w := b.walk(t, end.ID); w.Next != "" || w.Confirmed != 2 {
		t.Errorf("the one at its end: %+v", w)
	}
	if w := b.walk(t, held.ID); !strings.Contains(w.HeldBy, "process ") {
		t.Errorf("the one that is held: %+v", w)
	}
	if len(b.Over) != 1 || b.Over[0].ID != over.ID || len(b.Open) != 3 {
		t.Errorf("%d open, over: %+v", len(b.Open), b.Over)
	}
	if len(b.Engines) != 4 {
		t.Errorf("engines: %+v", b.Engines)
	}
	var refs []string
	for _, s := range b.Sheets {
		refs = append(refs, s.Ref)
		if s.Own != (s.Ref == own || s.Ref == bad) {
			t.Errorf("%s is one's own: %v", s.Ref, s.Own)
		}
		if broken := s.Ref == bad; broken != (s.Procedure == nil) || broken && s.Err == nil && len(s.Problems.Errors()) == 0 {
			t.Errorf("%s: %+v", s.Ref, s)
		}
	}
	if first := refs[:2]; !slices.Contains(first, own) || !slices.Contains(first, bad) || len(refs) < 2+len(procedures.Bundled()) {
		t.Errorf("one's own do not come first: %v", refs)
	}
	if s := b.Sheets[slices.Index(refs, own)]; s.Procedure.Name != "Close the cover" {
		t.Errorf("own: %+v", s.Procedure)
	}
}

// both is one sheet for taking the cover off and putting it on.
const both = `format = 1
[procedure]
name      = "Cover"
direction = "both"
source    = "Osier sheet 5 (invented)"
[group.main]
thread = "M8x1.25"
class  = "8.8"
torque = "22 N·m"
[group.main.at]
M1 = [0, 0]
M2 = [70, 0]
[[pass]]
name      = "Take out"
direction = "open"
groups    = ["main"]
remove    = true
order     = "listed"
[[pass]]
name      = "Final"
direction = "close"
groups    = ["main"]
torque    = "100 %"
order     = "listed"
`

func TestAFileThatGoesBothWaysIsTwoSheets(t *testing.T) {
	r := newRoom(t)
	r.sheet("own/cover.toml", both)
	var refs []string
	for _, s := range r.board().Sheets {
		if s.Own {
			refs = append(refs, s.Ref+" "+string(s.Procedure.Direction))
		}
	}
	if want := []string{"cover:open open", "cover:close close"}; !slices.Equal(refs, want) {
		t.Fatalf("one's own are %q, want %q", refs, want)
	}
	for _, ref := range []string{"cover:open", "cover:close"} { // on one engine
		id := r.opens(Request{Procedure: ref, Engine: "7"}).ID
		if got := r.board().walk(t, id).Sheet; got != ref {
			t.Errorf("the walk of %s is listed under %q", ref, got)
		}
	}
}

// The walk that was touched last comes first, whenever it was begun: it is the one to
// be found in hand when it is left.
func TestOpenWalksAreListedLastTouchedFirst(t *testing.T) {
	r := newRoom(t)
	sheet := r.sheet("cover.toml", cover)
	first := r.opens(Request{Procedure: sheet, Engine: "7"})
	second := r.opens(Request{Procedure: sheet, Engine: "8"})
	ids := func() (ids []string) {
		for _, w := range r.board().Open {
			ids = append(ids, w.ID)
		}
		return ids
	}
	if got := ids(); !slices.Equal(got, []string{second.ID, first.ID}) {
		t.Errorf("begun one after the other: %q", got)
	}
	r.does(Request{Record: first.ID}, walk.Command{Do: walk.Confirm})
	if got := ids(); !slices.Equal(got, []string{first.ID, second.ID}) {
		t.Errorf("after the first was gone on with: %q", got)
	}
}

func TestABoardOfNothingYet(t *testing.T) {
	r := newRoom(t)
	if b := r.board(); len(b.Open)+len(b.Over)+len(b.Engines) > 0 || len(b.Sheets) < len(procedures.Bundled()) {
		t.Errorf("%+v", b)
	}
	if _, err := os.Stat(r.Store.Dir); err == nil {
		t.Error("looking has made a folder of records")
	}
	if err := os.WriteFile(r.Store.Dir, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := r.Board(); err == nil || !strings.Contains(err.Error(), filepath.Base(r.Store.Dir)) {
		t.Errorf("a folder that is none gives %v", err)
	}
}
