package procedures

import (
	"reflect"
	"testing"

	"evenpull/spec"
)

// there and back: each joint of the Osier 380 that is opened is also closed.
var pairs = map[string]string{
	"top-end-open":   "top-end-close",
	"flywheel-off":   "flywheel-nut",
	"crankcase-open": "crankcase-close",
	"rods-off":       "rod-bolts",
	"clutch-open":    "clutch-close",
	"starter-off":    "starter-on",
	"oil-pump-open":  "oil-pump-close",
	"gearbox-out":    "gearbox-in",
	"cases-away":     "cases-back",
}

func TestWhatComesOffGoesBack(t *testing.T) {
	for openName, closeName := range pairs {
		off, on := load(t, openName), load(t, closeName)
		if off.Direction != spec.Open || on.Direction != spec.Close || off.Engine != on.Engine {
			t.Errorf("%s and %s are no pair: %s %s, %s %s", openName, closeName, off.Direction, off.Engine, on.Direction, on.Engine)
		}
		samePartsBothWays(t, off, on)
		samePartsBothWays(t, on, off)
		sameFastenersBothWays(t, off, on)
		sameFastenersBothWays(t, on, off)
	}
}

func samePartsBothWays(t *testing.T, a, b *spec.Procedure) {
	t.Helper()
	byID := map[string]*spec.Part{}
	for _, part := range b.Parts {
		byID[part.ID] = part
	}
	for _, part := range a.Parts {
		other := byID[part.ID]
		if other == nil {
			t.Errorf("part %s of %s is not in %s", part.ID, a.File, b.File)
			continue
		}
		if part.Name != other.Name || part.Kind != other.Kind || part.Count != other.Count || part.OneUse != other.OneUse ||
			part.Number != other.Number || part.Work != other.Work {
			t.Errorf("part %s differs between %s and %s", part.ID, a.File, b.File)
		}
		if part.Before == nil && part.After == nil && len(a.Fasteners) > 0 {
			t.Errorf("part %s of %s has no place in the order", part.ID, a.File)
		}
	}
}

func sameFastenersBothWays(t *testing.T, a, b *spec.Procedure) {
	t.Helper()
	for _, f := range a.Fasteners {
		other := b.Fastener(f.ID)
		switch {
		case other == nil:
			t.Errorf("fastener %s of %s is not in %s", f.ID, a.File, b.File)
		case f.X != other.X || f.Y != other.Y || f.Group.Thread != other.Group.Thread || f.Group.ProofLoadN != other.Group.ProofLoadN ||
			f.Group.OneUse != other.Group.OneUse || !reflect.DeepEqual(f.Group.With, other.Group.With):
			t.Errorf("fastener %s differs between %s and %s", f.ID, a.File, b.File)
		}
	}
}

// The story can be told: each kind of thing the demo shows is somewhere in it.
func TestTheWholeStoryShowsEachKindOfThing(t *testing.T) {
	seen := map[string]bool{}
	for _, name := range Bundled() {
		p := load(t, name)
		for _, c := range p.Callouts {
			seen["callout "+c.Kind] = true
		}
		for _, part := range p.Parts {
			seen["part "+part.Kind] = true
			seen["look for"] = seen["look for"] || len(part.LookFor) > 0
			seen["condemn"] = seen["condemn"] || len(part.Condemn) > 0
			seen["measure"] = seen["measure"] || part.Measure != ""
			seen["work"] = seen["work"] || part.Work != ""
		}
		for _, c := range p.Checks {
			if c.Shim != nil {
				seen["shim"] = true
				seen["shims at both ends"] = seen["shims at both ends"] || c.Shim.Ends == 2
			}
		}
		for _, pass := range p.Passes {
			for _, step := range pass.Steps {
				seen["action "+string(step.Action)] = true
			}
		}
	}
	for _, want := range []string{
		"callout tool", "callout heat", "callout spring", "callout press", "callout lift",
		"part washer", "part shim", "part key", "part seal", "part o-ring", "part circlip", "part dowel", "part gasket",
		"look for", "condemn", "measure", "work", "shim", "shims at both ends",
		"action torque", "action turn", "action loosen", "action remove", "action stretch",
	} {
		if !seen[want] {
			t.Errorf("no bundled procedure shows: %s", want)
		}
	}
}
