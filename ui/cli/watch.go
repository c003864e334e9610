package cli

import (
	"fmt"
	"strings"
	"time"

	"evenpull/procedures/session"
	"evenpull/procedures/walk"
	"evenpull/ui/program"
	"evenpull/ui/stand"
)

// onlyLooks are the flags that make no sense for who only looks on.
var onlyLooks = []string{"plain", "new", "at", "from-paper", "despite", "wrench", "adapter", "wrenches", "gauge"}

// watchUsage refuses what cannot go with --watch.
func watchUsage(changed func(flag string) bool) error {
	for _, flag := range onlyLooks {
		if changed(flag) {
			return usage("--watch only looks on, on a screen of its own; leave out --%s", flag)
		}
	}
	return nil
}

// watch follows the walk that is meant, on the big screen, and waits for it to begin
// if it has not.
func (a *app) watch(r session.Request, h hearing) error {
	if a.dumb() {
		return usage("--watch needs a terminal that can move its cursor, and this one says it cannot (TERM=dumb)")
	}
	d, err := a.desk()
	if err != nil {
		return err
	}
	w, err := d.Watch(r, a.waits())
	if err != nil {
		return a.asked(a.unopened(err), again{Request: r, watch: true})
	}
	ear, quiet, err := a.ear(h)
	if err != nil {
		return err
	}
	return a.show(program.Layer{Close: func() { quiet(0) }, Screen: stand.New(stand.Config{
		State: w.State, Now: a.Now, RecordID: w.ID + a.recordsFlag(), Engine: placed(w.Tag, w.Place), ReadOnly: "this screen only watches", Notices: []string{watchNotice(w.State)},
		Follow: w.Look, Watch: true, Ear: ear, Leave: program.Back,
	})})
}

// watchNotice is what a watching screen says at first: what was last done.
func watchNotice(s *walk.State) string {
	if last := s.LastUndoable(); last != "" {
		return "last: " + last
	}
	return "watching: nothing is confirmed yet"
}

// lookForWalk is how often the folder is looked into for a walk that is waited for.
const lookForWalk = 200 * time.Millisecond

// waits says once what is waited for, and waits a moment.
func (a *app) waits() func(*session.NotBegunError) {
	told := false
	return func(none *session.NotBegunError) {
		if !told {
			fmt.Fprintf(a.Err, "evenpull: %s\nwaiting for that; ctrl-c leaves\n", a.pointed(strings.ReplaceAll(none.Error(), "\n", " ")))
			told = true
		}
		time.Sleep(lookForWalk)
	}
}
