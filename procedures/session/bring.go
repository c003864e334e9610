package session

import (
	"bytes"
	"encoding/json"
	"fmt"

	"evenpull/procedures/engine"
	"evenpull/procedures/record"
	"evenpull/procedures/shell"
	"evenpull/procedures/walk"
	"evenpull/spec"
)

// bringBack tells a walk what its engine knows: what is off and has to go back
// in. It closes the session when that cannot be written down.
func (s *Session) bringBack() (*Session, error) {
	p := s.Live.State.Plan.Procedure
	s.Live.State.InUse(s.Engine.IDs())
	switch {
	case p.Direction != spec.Close:
		return s, nil
	case record.TagKey(s.Tag) == "":
		s.More = append(s.More, "no engine tag, so no strip-down is looked up; only what the procedure names is asked for (--engine TAG)")
		return s, nil
	}
	here := s.Engine.At(s.Place)
	s.tell(stripDown(here, s.Place, p)...)
	said := len(s.Live.State.Deviations)
	if err := bring(s.Live, here.Carried(p), here.FaultsFor(p)); err != nil {
		s.Close()
		return nil, err
	}
	if open := s.Live.State.FaultsOpen(); len(open) > 0 { // what was answered here stays so
		s.tell(fmt.Sprintf("found wrong at strip-down, and to be answered before done: %d", len(open)))
		for _, f := range open {
			s.tell(f.Text())
		}
	}
	for _, d := range s.Live.State.Deviations[said:] {
		s.tell(d.Text) // taken apart again by another walk: it is to be done again
	}
	return s, nil
}

// stripDown says in words what a close walk can build on.
func stripDown(e engine.Engine, place string, p *spec.Procedure) []string {
	if len(e.StripDowns(p)) == 0 {
		of := e.Tag
		if place != "" {
			of += ", " + place + ","
		}
		return []string{fmt.Sprintf("no strip-down of engine %s for this is on record; only what the procedure names is asked for", of)}
	}
	differences := e.Differences(p)
	if len(differences) == 0 {
		return nil
	}
	plural := "s"
	if len(differences) == 1 {
		plural = ""
	}
	line := fmt.Sprintf("the strip-down was walked by another version of the sheet: matched by id, %d difference%s, see %s", len(differences), plural, shell.Line("engine", []string{e.Tag}))
	return append([]string{line}, differences...)
}

// bring writes down what the engine brings, when that has changed.
func bring(live *walk.Live, list []walk.Carried, faults []walk.Fault) error {
	var last walk.Event
	for _, ev := range live.State.Events {
		switch ev.Kind {
		case walk.Brought:
			last = ev
		case walk.Resheeted:
			last = walk.Event{} // what comes off by another name there is told anew
		}
	}
	if same(last.Brought, list) && same(last.Faults, faults) {
		return nil
	}
	refusal, err := live.Do(walk.Command{Do: walk.Bring, Brought: list, Faults: faults})
	if refusal != nil {
		return refusal
	}
	return err
}

func same[T any](a, b []T) bool {
	if len(a) == 0 || len(b) == 0 {
		return len(a) == len(b)
	}
	one, err1 := json.Marshal(a)
	two, err2 := json.Marshal(b)
	return err1 == nil && err2 == nil && bytes.Equal(one, two)
}
