package plain

import (
	"errors"
	"fmt"
	"strings"

	"evenpull/procedures/walk"
	"evenpull/spec"
	"evenpull/ui/gauge"
	"evenpull/ui/words"
)

// Help lists the commands of a plain walk, one a line.
const Help = `commands, one a line:
  (empty) or ok            what is asked for is done
  read 24.6 N·m            done, with the figure read off the tool; of a stretch:
                           read free 65.20 mm, now 65.33 mm, at 42 N·m
  24.6 N·m                 the same: a gauge or a wrench types no more than its figure
  yes | no REASON          answer a question; no M3, M4: REASON names what came loose
  measure 0.12 mm          give a measured figure
  renew M3 [part][, number]   a new piece is fitted; without a part: all that is due;
                           only at its place, before it is tightened
  found THING CONDITION[, box 2][, bag 7][, measured 0.8 mm][, where TEXT]
      [, face TEXT][, goes back|replace|WORK][, not to be used again][, because REASON]
                           how a thing came off and where it is put; CONDITION in
                           your own words, in quotes if no thing is named; what may
                           condemn it is asked: to be used again? yes or no
  found third shim worn, measured 2.45 mm
                           one of several; also: found shim 3 worn
  found NEW "thin washer under the cam sprocket" good, box 3
                           a thing that no sheet has; the close-up will ask for it
  refit THING              a thing left over went back all the same
  account THING REASON     a thing does not go back, and why
  clean THING              back from work, and cleaned
  undo REASON              take the last step back; nothing is erased
  lost REASON              the angle was lost: the fastener starts again; of one that is
                           not in hand: lost M3: REASON
  problem M3 bent          replace it and start it again
  problem M3 stripped, bolt|case   which thread it was
  repaired by WHOM[, WHAT] | replaced [WITH WHAT] | measure 0.12 mm
                           what was done about a finding of the strip-down; about one
                           that is not in hand: answer NAME repaired by WHOM
  later REASON             what the engine brought is asked for at the end instead
  repaired M3 insert WHAT, size SIZE, by WHOM, torque FIGURE, engagement LENGTH,
      drive SIZE           a thread in the case is good again
  reseal REASON            the joint was opened and is sealed afresh
  set                      the wrench is set and the socket on, kept in the record
                           with the time; nobody has to say so
  gauge N·m                figures without a unit are in N·m, as a gauge sends them, until
                           the walk is left; gauge none: none are
  note [THING:] TEXT       keep a remark, of what is in hand or of THING; whole: TEXT is
                           of no single thing
  photo FILE [of THING][, CAPTION]   copy a picture next to the record; of what is in
                           hand, of THING, or of whole
  list                     what is outstanding
  why                      why this one comes now
  done                     close the walk; refused while anything is open
  stop REASON              end it unfinished, for good
  quit                     leave it open and come back later`

// request is one line of input, understood.
type request struct {
	command walk.Command
	photo   string // path of the picture that the command keeps
	local   string // help, list, why, quit: nothing that goes into the record
	gauge   *gauge.Gauge
}

// parse reads one line. Words are not case sensitive; what follows them is kept as typed.
func parse(line string, s *walk.State) (request, error) {
	line = strings.TrimSpace(spec.Printable(line))
	word, rest, _ := strings.Cut(line, " ")
	rest = strings.TrimSpace(rest)
	c := walk.Command{Text: rest}
	var err error
	switch strings.ToLower(word) {
	case "", "ok":
		c.Do, c.Text = walk.Confirm, ""
		if rest != "" {
			return request{}, fmt.Errorf("ok takes nothing after it; with a figure: read %s", rest)
		}
	case "read":
		c = walk.Command{Do: walk.Confirm, Reading: rest}
		if rest == "" {
			return request{}, fmt.Errorf("read needs a figure: read 24.6 N·m")
		}
	case "measure":
		c = walk.Command{Do: walk.Measure, Reading: rest}
		if rest == "" {
			return request{}, fmt.Errorf("measure needs a figure: measure 0.12 mm")
		}
	case "yes", "y":
		c.Do = walk.Yes
	case "no", "n":
		c.Do = walk.No
		c.Restarts, c.Text = words.LooseIn(rest, s.Plan.Procedure)
	case "repaired", "replaced":
		c, err = repaired(line, rest, s)
	case "answer":
		var target string
		target, rest = words.AnswerOf(rest, s.FaultsOpen())
		c, err = words.AnswerIn(rest)
		c.Target = target
	case "later":
		c.Do = walk.Later
	case "renew":
		c = renewal(rest, s)
	case "found":
		c, err = finding(rest, s)
	case "refit", "account", "clean":
		c, err = aboutThing(walk.Verb(strings.ToLower(word)), rest, s)
	case "undo":
		c.Do = walk.Undo
	case "lost":
		c, err = lost(rest, s)
	case "problem":
		target, text, _ := strings.Cut(rest, " ")
		c = walk.Command{Do: walk.Problem, Target: target}
		c.Text, c.Facts = words.TroubleIn(strings.TrimSpace(text))
	case "reseal":
		c.Do = walk.Reseal
	case "note":
		c.Do = walk.Note
		c.Target, c.Text = words.AboutIn(rest, s)
	case "photo":
		r := request{command: walk.Command{Do: walk.Picture}}
		r.photo, r.command.Target, r.command.Text, err = words.PhotoIn(rest, s)
		return r, err
	case "stop":
		c.Do = walk.Stop
	case "done":
		c.Do = walk.FinishUp
	case "set":
		c.Do, c.Text = walk.Change, ""
		if rest != "" {
			return request{}, fmt.Errorf("set takes nothing after it; a remark goes in with: note %s", rest)
		}
	case "gauge":
		return gaugeSet(rest)
	case "help", "?", "list", "why", "quit":
		return request{local: strings.ToLower(word)}, nil
	default:
		if isFigure(line) { // as a gauge or a wrench types it
			c = walk.Command{Do: walk.Confirm, Reading: line}
			if it := s.CurrentItem(); it != nil && (it.Kind == walk.MeasureItem || it.Kind == walk.FaultItem) {
				c.Do = walk.Measure
			}
			break
		}
		return request{}, fmt.Errorf("%q is not a command here; type help for the list", word)
	}
	if err == nil && asksWhy[c.Do] {
		c.Text, err = words.Reason(c.Text)
	}
	return request{command: c}, err
}

// gaugeSet reads which unit a gauge sends.
func gaugeSet(rest string) (request, error) {
	if strings.EqualFold(rest, "none") {
		return request{gauge: &gauge.Gauge{}}, nil
	}
	g, err := gauge.Read(rest)
	if err == nil && g.IsZero() {
		err = errors.New("gauge needs the unit that it sends: gauge N·m, or gauge none")
	}
	return request{gauge: &g}, err
}

// asksWhy are the commands that take a reason and nothing else.
var asksWhy = map[walk.Verb]bool{walk.No: true, walk.Undo: true, walk.Lose: true, walk.Account: true, walk.Reseal: true, walk.Later: true, walk.Stop: true}

// lost reads "M3: the socket slipped"; without a colon it is the fastener in hand.
func lost(rest string, s *walk.State) (walk.Command, error) {
	named, reason := words.LooseIn(rest, s.Plan.Procedure)
	c := walk.Command{Do: walk.Lose, Text: reason}
	if len(named) > 1 {
		return c, fmt.Errorf("one fastener at a time: lost %s: REASON", named[0])
	}
	if len(named) == 1 {
		c.Target = named[0]
	}
	return c, nil
}

// repaired reads "M3 insert wire coil, size M8x1.25, by …"; without an id it is
// the thread in hand. Of a finding in hand it is what was done about that.
func repaired(line, rest string, s *walk.State) (walk.Command, error) {
	if it := s.CurrentItem(); it != nil && it.Kind == walk.FaultItem || strings.EqualFold(line[:len(walk.ByNew)], walk.ByNew) {
		return words.AnswerIn(line)
	}
	c := walk.Command{Do: walk.Repair}
	if id, more, _ := strings.Cut(rest, " "); s.Plan.Procedure.Fastener(id) != nil {
		c.Target, rest = id, more
	}
	var err error
	c.Facts, err = words.RepairIn(rest)
	return c, err
}

// renewal reads "M3 sealing washer, batch 4471": who, which piece, its number.
// A part's name may itself hold a comma, as in "crank seal, left": as much as
// names a part is its name, and what follows the next comma is the number.
func renewal(rest string, s *walk.State) walk.Command {
	for cut := len(rest); cut > 0; cut = strings.LastIndex(rest[:cut], ",") {
		if c, ok := renewalOfPart(rest[:cut], s); ok {
			c.Number = strings.TrimSpace(strings.TrimPrefix(rest[cut:], ","))
			return c
		}
	}
	c := walk.Command{Do: walk.Renew}
	rest, c.Number, _ = strings.Cut(rest, ",")
	c.Number = strings.TrimSpace(c.Number)
	if said := strings.Fields(rest); len(said) > 0 {
		c.Target, c.Piece = said[0], strings.Join(said[1:], " ")
	}
	return c
}

// renewalOfPart reads a part's name and the piece. A name may have several
// words, so the longest match wins.
func renewalOfPart(text string, s *walk.State) (walk.Command, bool) {
	said := strings.Fields(text)
	for n := len(said); n > 1; n-- {
		if name := strings.Join(said[:n], " "); s.Part(name) != nil {
			return walk.Command{Do: walk.Renew, Target: name, Piece: strings.Join(said[n:], " ")}, true
		}
	}
	return walk.Command{}, false
}
