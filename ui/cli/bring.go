package cli

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"
	"time"

	"evenpull/procedures"
	"evenpull/procedures/engine"
	"evenpull/procedures/record"
	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/ui/words"
)

// closers are the close procedures there are to walk, bundled and the person's
// own. Files with problems are for check, not for here.
func closers() []*spec.Procedure {
	var list []*spec.Procedure
	lib := procedures.Standard()
	for _, name := range lib.Names() {
		if p, _, err := lib.Load(name); err == nil && p != nil && p.Direction == spec.Close {
			p.File = name // as the person would type it
			list = append(list, p)
		}
	}
	return list
}

// engineOf folds everything on record of a tag but one record, which may be
// empty.
func (a *app) engineOf(store *record.Store, tag, except string) (engine.Engine, error) {
	list, err := store.List()
	if err != nil {
		return engine.Engine{}, problem(err)
	}
	ledgers, damaged, err := store.Ledgers()
	if err != nil {
		return engine.Engine{}, problem(err)
	}
	e := engine.Fold(tag, walksOf(list, tag, except), ledgers, closers())
	for _, d := range damaged {
		e.Problems = append(e.Problems, spec.Printable(d.Error()))
	}
	return e, nil
}

// walksOf reads and replays the records of one tag.
func walksOf(list []record.Summary, tag, except string) []engine.Walk {
	var walks []engine.Walk
	for _, sum := range list {
		if sum.ID == except || !record.SameTag(sum.Engine, tag) {
			continue
		}
		f, err := record.Read(sum.Path)
		if err != nil {
			continue // gone since it was listed
		}
		walks = append(walks, engine.WalkOf(f))
	}
	return walks
}

// bringBack tells a walk what its engine knows: what is off and has to go back
// in, and what was measured last time. It closes the session when that cannot
// be written down.
func (a *app) bringBack(store *record.Store, s *session) error {
	p := s.live.State.Plan.Procedure
	if record.TagKey(s.engine) == "" {
		if p.Direction == spec.Close {
			s.details = append(s.details, "no engine tag, so no strip-down is looked up; only what the procedure names is asked for (--engine TAG)")
		}
		return nil
	}
	e, err := a.engineOf(store, s.engine, s.id)
	if err == nil {
		s.memory = memoryOf(e)
		if p.Direction == spec.Close {
			s.tell(stripDown(e, p))
			err = bring(s.live, e.Carried(p))
		}
	}
	if err != nil {
		s.close()
		return problem(err)
	}
	return nil
}

// tell puts the first line where the stand screen shows it too, unless something
// more pressing stands there.
func (s *session) tell(lines []string) {
	if len(lines) > 0 && s.notice == "" {
		s.notice, lines = lines[0], lines[1:]
	}
	s.details = append(s.details, lines...)
}

// checkTag refuses to start a walk under the tag of another engine.
func (a *app) checkTag(store *record.Store, tag string, p *spec.Procedure) error {
	if record.TagKey(tag) == "" {
		return nil
	}
	e, err := a.engineOf(store, tag, "")
	if err != nil {
		return err
	}
	return problem(e.CheckModel(p))
}

// stripDown says in words what a close walk can build on.
func stripDown(e engine.Engine, p *spec.Procedure) []string {
	if len(e.StripDowns(p)) == 0 {
		return []string{fmt.Sprintf("no strip-down of engine %s for this is on record; only what the procedure names is asked for", e.Tag)}
	}
	differences := e.Differences(p)
	if len(differences) == 0 {
		return nil
	}
	lines := []string{fmt.Sprintf("the strip-down was walked by another version of the sheet: matched by id, %s, see evenpull engine %s", countOf(len(differences), "difference"), e.Tag)}
	return append(lines, differences...)
}

// bring writes down what the engine brings, when that has changed.
func bring(live *walk.Live, list []walk.Carried) error {
	var last []walk.Carried
	for _, ev := range live.State.Events {
		if ev.Kind == walk.Brought {
			last = ev.Brought
		}
	}
	if same(last, list) {
		return nil
	}
	refusal, err := live.Do(walk.Command{Do: walk.Bring, Brought: list})
	if refusal != nil {
		return refusal
	}
	return err
}

func same(a, b []walk.Carried) bool {
	if len(a) == 0 || len(b) == 0 {
		return len(a) == len(b)
	}
	one, err1 := json.Marshal(a)
	two, err2 := json.Marshal(b)
	return err1 == nil && err2 == nil && bytes.Equal(one, two)
}

// wasEnding marks the check of an open procedure that measures what a check of
// the close procedure will measure again: clearance-inlet-was.
const wasEnding = "-was"

// memoryOf words the last figures. What was found at strip-down stands beside
// what it was set to when last closed.
func memoryOf(e engine.Engine) words.Memory {
	m := words.Memory{}
	for key, r := range e.Last {
		m[key] = fmt.Sprintf("last time %s (%s)", r.Text, r.At.Format(time.DateOnly))
	}
	for key, r := range e.Last {
		if base, is := strings.CutSuffix(key, wasEnding); is {
			found := fmt.Sprintf("at strip-down %s (%s)", r.Text, r.At.Format(time.DateOnly))
			m[base] = strings.TrimPrefix(m[base]+"; "+found, "; ")
		}
	}
	return m
}
