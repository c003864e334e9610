package cli

import (
	"errors"
	"fmt"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"evenpull/procedures/plan"
	"evenpull/procedures/record"
	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/ui/estimate"
	"evenpull/ui/plain"
	"evenpull/ui/words"
)

func (a *app) walkCommand() *cobra.Command {
	var engine string
	var asPlain, fresh bool
	var t tools
	cmd := &cobra.Command{
		Use:   "walk PROCEDURE",
		Short: "Walk a procedure at the stand, going on with an open walk if there is one",
		Example: `  evenpull walk crankcase-close --engine "stand 2"
  evenpull walk my-sheet.toml --plain`,
		Args: exactly(1, "one procedure: a bundled name or a file"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if !asPlain && !a.onTerminal() {
				return usage("the stand screen needs a terminal on input and output; add --plain for the walk as lines")
			}
			b, err := a.walkBench(t)
			if err != nil {
				return err
			}
			s, err := a.openWalk(args[0], engine, fresh)
			if err != nil {
				return err
			}
			defer s.close()
			s.bench = b
			if asPlain {
				return a.walkPlain(s)
			}
			return a.walkAtStand(s)
		},
	}
	cmd.Flags().StringVar(&engine, "engine", "", "tag of the engine: a number on masking tape is fine")
	cmd.Flags().BoolVar(&asPlain, "plain", false, "as lines of text, for screen readers, pipes and serial consoles")
	cmd.Flags().BoolVar(&fresh, "new", false, "start a new walk even if one is open")
	cmd.Flags().StringArrayVar(&t.wrench, "wrench", nil, "wrench in use, by name, kept in the record; may be given again")
	cmd.Flags().StringVar(&t.adapter, "adapter", "", "adapter on its drive, by name")
	cmd.Flags().StringVar(&t.file, "wrenches", "", "file of wrenches (default: wrenches.toml in your settings folder)")
	return cmd
}

// session is a walk that has been opened, with its place on disk.
type session struct {
	id      string
	engine  string         // the tag
	writer  *record.Writer // nil: somebody else has it, and it is only shown
	live    *walk.Live
	held    *record.LockedError
	notice  string // said once at the top
	back    string // how to come back
	memory  words.Memory
	details []string // more to say at the top, where there is room for it
	bench   estimate.Bench
}

// advice is the line on the wrench for a stage.
func (s *session) advice(st *plan.Stage) string {
	line, _ := estimate.WrenchLine(s.bench, st)
	return line
}

// used is what the record keeps of the wrench: only of one that was named, for
// advice is no evidence.
func (s *session) used(st *plan.Stage) map[string]string {
	if len(s.bench.Named) == 0 {
		return nil
	}
	_, facts := estimate.WrenchLine(s.bench, st)
	return facts
}

func (s *session) close() {
	if s.writer != nil {
		s.writer.Close()
	}
}

// longestTag is how many characters a tag may have: it stands in every list.
const longestTag = 60

// openWalk goes on with the open walk of this engine and procedure, or starts one.
func (a *app) openWalk(name, engine string, fresh bool) (*session, error) {
	if n := utf8.RuneCountInString(engine); n > longestTag {
		return nil, usage("the engine's tag has %d characters; %d at most: a number on masking tape is fine", n, longestTag)
	}
	store, err := a.store()
	if err != nil {
		return nil, err
	}
	p, err := a.load(name)
	if err != nil {
		if s := a.withoutFile(store, name, engine, fresh); s != nil {
			return s, nil
		}
		return nil, err
	}
	found, ok, err := store.OpenWalk(engine, p.Name, record.TextHash(p.Text))
	if err != nil {
		return nil, problem(err)
	}
	if ok && !fresh {
		return a.resume(store, found.ID, found.TextChanged)
	}
	if err := a.checkTag(store, engine, p); err != nil {
		return nil, err
	}
	w, err := store.Create(record.NewHeader(p, name, engine, Version, a.Now()))
	if err != nil {
		return nil, problem(err)
	}
	s := &session{id: w.ID, engine: engine, writer: w, back: a.comeBack(name, engine)}
	if b := found.Broken; b != nil {
		s.notice = fmt.Sprintf("the record before this one, %s, is broken and cannot be gone on with; this walk starts afresh: evenpull show %s", b.ID, b.ID)
	}
	s.live = &walk.Live{State: walk.New(plan.Of(p)), Now: a.Now, Append: w.Append}
	return s, a.bringBack(store, s)
}

// withoutFile goes on with an open walk whose procedure file is gone or no
// longer reads: the record holds the text it began with. It is nil when there is none.
func (a *app) withoutFile(store *record.Store, name, engine string, fresh bool) *session {
	list, err := store.List()
	if err != nil || fresh {
		return nil
	}
	for _, sum := range list {
		if sum.State != record.StateOpen || sum.Source != name || !record.SameTag(sum.Engine, engine) {
			continue
		}
		s, err := a.resume(store, sum.ID, false)
		if err != nil {
			return nil
		}
		if s.notice != "" {
			s.details = append([]string{s.notice}, s.details...)
		}
		s.notice = "the procedure file cannot be read any more; this walk goes on with the text it began with"
		return s
	}
	return nil
}

// comeBack is the command line that goes on with a walk.
func (a *app) comeBack(name, engine string) string {
	text := "evenpull walk " + spec.Printable(name)
	if engine != "" {
		text += fmt.Sprintf(" --engine %q", spec.Printable(engine))
	}
	return text + a.recordsFlag()
}

// recordsFlag is what a command needs to find the same folder again, or "".
func (a *app) recordsFlag() string {
	if a.recordsDir == "" {
		return ""
	}
	return fmt.Sprintf(" --records %q", spec.Printable(a.recordsDir))
}

// resume opens a record where it was left, with the text it was started with.
func (a *app) resume(store *record.Store, id string, textChanged bool) (*session, error) {
	w, events, err := store.Resume(id)
	s := &session{id: id, writer: w}
	if err != nil && !errors.As(err, &s.held) {
		return nil, problem(err)
	}
	f, err := record.Read(store.Path(id))
	if err != nil {
		s.close()
		return nil, problem(err)
	}
	p, err := f.Plan()
	if err != nil {
		s.close()
		return nil, problem(err)
	}
	s.engine, s.back = f.Header.Engine, a.comeBack(f.Header.Source, f.Header.Engine)
	s.live = &walk.Live{State: walk.New(p), Now: a.Now}
	walk.Replay(s.live.State, events)
	if textChanged {
		s.notice = "the procedure file has changed since this walk began; it goes on with the text it began with (--new starts afresh)"
	}
	if w == nil {
		return s, nil
	}
	if w.Aside != nil {
		s.notice = w.Aside.String()
	}
	s.live.Append = w.Append
	if _, err := s.live.Do(walk.Command{Do: walk.Resume}); err != nil {
		s.close()
		return nil, problem(err)
	}
	return s, a.bringBack(store, s)
}

func (a *app) walkPlain(s *session) error {
	if s.held != nil {
		return problem(s.held)
	}
	fmt.Fprintf(a.Err, "record: %s\n", s.id)
	if s.notice != "" {
		fmt.Fprintf(a.Err, "notice: %s\n", s.notice)
	}
	for _, line := range s.details {
		fmt.Fprintf(a.Err, "notice: %s\n", line)
	}
	ended, err := plain.Walk(s.live, a.In, a.Out, plain.Options{Wrench: s.advice, Facts: s.used, Memory: s.memory})
	if err != nil {
		return problem(err)
	}
	return a.left(s, ended == plain.Done)
}

// left says how a walk was left and how to come back.
func (a *app) left(s *session, done bool) error {
	if done {
		return nil
	}
	open := len(s.live.State.Outstanding(a.Now()))
	if s.live.State.Phase == walk.IsStopped {
		return &exit{ExitOutstanding, fmt.Errorf("stopped with %d outstanding; see it with: evenpull show %s", open, s.id)}
	}
	return &exit{ExitOutstanding, fmt.Errorf("left open with %d outstanding; go on with: %s", open, s.back)}
}
