package walk

import (
	"strings"
)

// meaningOf is what the answer to a line rests on.
func meaningOf(it Item) string {
	switch {
	case it.Kind == StageItem:
		return it.Stage.TargetText() + "\n" + it.Pass.Meaning() + it.Stage.Fastener.Meaning()
	case it.Check != nil:
		return it.Check.Meaning()
	case it.Part != nil:
		return it.Part.Meaning()
	case it.Callout != nil:
		return it.Callout.Meaning()
	case it.Kind == PrepItem && it.Fastener == nil:
		var b strings.Builder
		for _, f := range it.Group.Members {
			b.WriteString(f.ID + "\n" + f.Meaning())
		}
		return b.String()
	case it.Fastener != nil:
		return it.Fastener.Meaning()
	}
	return ""
}

// alike reports whether what was done for a line of the sheet that held serves for
// that of another.
func (s *State) alike(was, now Item, to *Course) bool {
	switch {
	case was.Kind != now.Kind:
		return false
	case now.Kind == WaitItem:
		return now.Pass.Wait <= was.Pass.Wait
	case now.Kind == SealItem:
		a, b := s.sheet.Plan.Procedure.Sealant, to.Plan.Procedure.Sealant
		inTime := s.sealHeld.IsZero() || b.WorkTime >= a.WorkTime // still running, it is judged by the new time
		return a.Name == b.Name && was.Pass.Name == now.Pass.Name && inTime
	}
	return meaningOf(was) == meaningOf(now)
}

// acts: something is done to the joint by it, so that it matters what came before it.
func (it Item) acts() bool {
	switch it.Kind {
	case StageItem, WaitItem, SealItem:
		return true
	case PartItem:
		return it.Part.Before != nil || it.Part.After != nil
	case CalloutItem:
		return it.Callout.Kind == "heat"
	}
	return false
}

// keeps tells which lines of another sheet stand as they do on this: they mean the
// same, and a stage, wait or smear has nothing before it that was not before it here.
func (s *State) keeps(to *Course) map[string]bool {
	keep := map[string]bool{}
	latest := -1 // where on this sheet the last of what comes before lies
	for n, now := range to.Items {
		key := now.Key().String()
		at, known := s.sheet.Find(key)
		same := known && s.alike(s.sheet.Items[at], now, to)
		keep[key] = same
		if now.acts() {
			if now.Kind != PartItem && now.Kind != CalloutItem {
				keep[key] = same && at > latest
			}
			if !known || !same && now.Kind != StageItem {
				at = len(s.sheet.Items)
			}
			latest = max(latest, at)
		}
		together(keep, key, to, n)
	}
	return keep
}

// together: what follows a heat in time stands only with it, and the heat with that.
func together(keep map[string]bool, act string, c *Course, n int) {
	for _, i := range c.heats[n] {
		heat := c.Items[i].Key().String()
		keep[act] = keep[act] && keep[heat]
	}
	for _, i := range c.heats[n] {
		keep[c.Items[i].Key().String()] = keep[act]
	}
}
