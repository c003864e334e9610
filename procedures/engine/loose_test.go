package engine

import (
	"strings"
	"testing"

	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/spec/ident"
)

// looseFrom are the fasteners that a walk is brought as loose, and by which record.
func looseFrom(e Engine, p *spec.Procedure) (list []string) {
	for _, c := range e.Carried(p) {
		if c.Loose {
			list = append(list, c.ID+" "+c.Record)
		}
	}
	return list
}

// What a close walk has let go, taken beyond its figure or fitted new, and not tightened
// to the end since, is loose for the next walk: another may have confirmed it before.
func TestWhatACloseWalkLeftLooseIsBroughtToTheNext(t *testing.T) {
	closer := sheet(t, closeSheet)
	slack := sheet(t, strings.NewReplacer(`"Close the cover"`, `"Tighten the cover again"`, "[[pass]]\n", "[[pass]]\nname = \"Slack\"\ngroups = [\"main\"]\nloosen = \"90°\"\norder = \"listed\"\n[[pass]]\n").Replace(closeSheet))
	confirm := walk.Command{Do: walk.Confirm}
	for _, c := range []struct {
		name string
		of   *spec.Procedure
		do   func(w *walked)
		want []string
	}{
		{"nothing done", slack, func(w *walked) {}, nil},
		{"one let go", slack, func(w *walked) { w.on("Slack/M1", nil).do(confirm) }, []string{"M1 up"}},
		{"both let go", slack, func(w *walked) { w.on("Final/M1", nil) }, []string{"M1 up", "M2 up"}},
		{"one tightened again", slack, func(w *walked) { w.on("Final/M2", nil) }, []string{"M2 up"}},
		{"both tightened again", slack, func(w *walked) { w.on("", nil) }, nil},
		{"letting go taken back", slack, func(w *walked) {
			w.on("Slack/M1", nil).do(confirm, walk.Command{Do: walk.Undo, Text: "the other bolt"})
		}, nil},
		{"one tightened, one not yet", closer, func(w *walked) { w.on("Final/M2", nil) }, nil},
		{"one fitted new and not yet tightened", closer, func(w *walked) { w.on("Final/M2", nil).do(walk.Command{Do: walk.Renew}) }, []string{"M2 up"}},
		{"one pulled beyond its figure", closer, func(w *walked) {
			w.on("Final/M2", nil).do(walk.Command{Do: walk.Renew}).refused(walk.Command{Do: walk.Confirm, Reading: "30 N·m"}, "30 N·m")
		}, []string{"M2 up"}},
	} {
		before := begin(t, "before", closer, day).on("", nil).done().walk()
		w := begin(t, "up", c.of, day.AddDate(0, 1, 0))
		c.do(w)
		e := fold("7", []Walk{before, w.walk()}, nil, []*spec.Procedure{closer})
		wantList(t, c.name, looseFrom(e, closer), c.want)
		noted := w.do(walk.Command{Do: walk.Note, Target: "M2", Text: "gritty"}).walk()
		e = fold("7", []Walk{before, noted}, nil, []*spec.Procedure{closer})
		wantList(t, c.name+", and something said", looseFrom(e, closer), c.want)
	}
}

// A thread found stripped on the way apart is told until it has been repaired.
func TestAStrippedThreadIsToldUntilItIsRepaired(t *testing.T) {
	closer := sheet(t, closeSheet)
	down := begin(t, "down", sheet(t, openSheet), day).on("Take out/M2", nil).do(walk.Command{Do: walk.Problem, Text: "stripped", Facts: walk.Facts{walk.StrippedAt: walk.InCase}}).on("", nil).done().walk()
	fold := func(more ...Walk) Engine { return fold("7", append(more, down), nil, []*spec.Procedure{closer}) }
	up := begin(t, "up", closer, day.AddDate(0, 1, 0)).bring(fold()).on(ident.RepairStep("M2").String(), nil)
	cased := func(when string, want int) {
		t.Helper()
		if got := fold(up.walk()).cased; len(got) != want {
			t.Errorf("%s: %v", when, got)
		}
	}
	cased("not repaired yet", 1)
	repaired := walk.Command{Do: walk.Repair, Facts: walk.Facts{"insert": "wire coil", "size": "M8", "by": "the shop", "torque": "as the sheet", "engagement": "14 mm", "drive": "as the sheet"}}
	up.do(repaired)
	cased("repaired", 0)
	up.do(walk.Command{Do: walk.Undo, Text: "not that one"})
	cased("taken back", 1)
	up.do(repaired).on("", nil)
	cased("repaired after all", 0)
	if list := fold(up.walk()).Carried(closer); len(list) > 0 {
		t.Errorf("all is in, and brought is %+v", list)
	}
}

// What was only spoken of in a close walk, or confirmed in and taken back, was not put
// back: taken off once more, it came off twice.
func TestOnlyWhatWasConfirmedInMayComeOffAgain(t *testing.T) {
	closers := []*spec.Procedure{sheet(t, closeSheet)}
	down := begin(t, "down", sheet(t, openSheet), day).on("", nil).done().walk()
	again := begin(t, "again", sheet(t, openSheet), day.AddDate(0, 2, 0)).on("", nil).done().walk()
	twice := func(do func(*walked)) (list []string) {
		up := begin(t, "up", closers[0], day.AddDate(0, 1, 0)).bring(fold("7", []Walk{down}, nil, closers)).on("part:shim", nil)
		do(up)
		for _, p := range fold("7", []Walk{down, up.walk(), again}, nil, closers).Problems {
			if strings.HasPrefix(p, "shim ") {
				list = append(list, p)
			}
		}
		return list
	}
	problem := []string{"shim came off twice, in down and in again, and was not put back between; it is counted once"}
	in := walk.Command{Do: walk.Confirm}
	for name, c := range map[string]struct {
		do   func(*walked)
		want []string
	}{
		"not touched":       {func(w *walked) {}, problem},
		"spoken of":         {func(w *walked) { w.do(walk.Command{Do: walk.Note, Target: "shim", Text: "thin"}) }, problem},
		"in":                {func(w *walked) { w.do(in) }, nil},
		"in and taken back": {func(w *walked) { w.do(in, walk.Command{Do: walk.Undo, Text: "the other"}) }, problem},
	} {
		wantList(t, name, twice(c.do), c.want)
	}
}
