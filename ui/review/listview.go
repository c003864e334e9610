package review

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/bubbles/key"

	"evenpull/ui/fit"
	"evenpull/ui/keys"
	"evenpull/ui/scroll"
	"evenpull/ui/theme"
)

// listKeys is every key of the list.
type listKeys struct {
	Look, Find, Sort, Reverse, State, Up, Down, PageUp, PageDown, Top, Bottom, Help, Suspend, Leave key.Binding
}

func (l List) keys() listKeys {
	s := l.list.Keys(scroll.Rows(), len(l.shown))
	k := listKeys{
		Look:    keys.New("look at it", "enter", " "),
		Find:    keys.New("find", "/"),
		Sort:    keys.New("sort by "+columnNames[(l.sort+1)%columnCount], "s"),
		Reverse: keys.New("other way round", "r"),
		State:   keys.New("show "+l.stateName((l.state+1)%(len(l.states)+1)), "f"),
		Up:      s.Up, Down: s.Down, PageUp: s.PageUp, PageDown: s.PageDown, Top: s.Top, Bottom: s.Bottom,
		Help:    keys.New("all keys", "?"),
		Suspend: keys.New("to the shell", "ctrl+z"),
		Leave:   keys.New("leave", "q", "esc", "ctrl+c"),
	}
	k.Look.SetEnabled(len(l.shown) > 0)
	k.State.SetEnabled(len(l.states) > 1)
	return k
}

func (k listKeys) all() []key.Binding {
	return []key.Binding{k.Look, k.Find, k.Sort, k.Reverse, k.State, k.Down, k.Up, k.PageDown, k.PageUp, k.Top, k.Bottom, k.Help, k.Suspend, k.Leave}
}

// findingKeys are the keys while words are typed.
type findingKeys struct {
	Keep, Clear, Up, Down, PageUp, PageDown, Suspend, Quit key.Binding
}

func (l List) findKeys() findingKeys {
	s := l.list.Keys(scroll.Typing(), len(l.shown))
	return findingKeys{
		Keep:  keys.New("keep these", "enter"),
		Clear: keys.New("show all again", "esc"),
		Up:    s.Up, Down: s.Down, PageUp: s.PageUp, PageDown: s.PageDown,
		Suspend: keys.New("to the shell", "ctrl+z"),
		Quit:    keys.New("leave", "ctrl+c"),
	}
}

func (k findingKeys) all() []key.Binding {
	return []key.Binding{k.Keep, k.Clear, k.Down, k.Up, k.Quit, k.PageDown, k.PageUp, k.Suspend}
}

func (l List) stateName(i int) string {
	if i == 0 {
		return "all states"
	}
	return l.states[i-1] + " only"
}

// View draws the screen: exactly as many lines as there are, none too wide.
func (l List) View() string {
	if l.width <= 0 || l.height <= 0 {
		return ""
	}
	head, foot := l.head(), l.foot()
	lines := head
	switch {
	case l.help:
		lines = append(lines[:1], keys.Lines(l.width, l.keys().all()...)...)
		foot = []string{theme.Render(theme.Quiet, fit.Cut("any key goes back", l.width))}
	case len(l.shown) == 0:
		lines = append(lines, theme.Render(theme.Quiet, fit.Cut(l.none(), l.width)))
	default:
		from, to := l.list.Window(len(l.shown), l.rows())
		for i := from; i < to; i++ {
			lines = append(lines, l.line(i))
		}
	}
	lines = append(fit.Box(lines, l.width, max(0, l.height-len(foot))), foot...)
	return strings.Join(fit.Box(lines, l.width, l.height), "\n")
}

func (l List) none() string {
	if len(l.entries) == 0 {
		return "No records yet: a walk leaves one."
	}
	return "No record has all these words."
}

// head says what is shown, in which order.
func (l List) head() []string {
	count := fmt.Sprintf("%d of %d", len(l.shown), len(l.entries))
	title := fit.Ends(theme.Render(theme.Title, fit.Cut("Records", max(0, l.width-len(count)-1))), count, l.width)
	if l.height < minimal {
		return []string{title}
	}
	order := "by " + columnNames[l.sort]
	if l.sort == byDate {
		order += ", newest first"
	}
	if l.backward {
		order = strings.TrimSuffix(order, ", newest first") + ", the other way round"
	}
	filter := order + "; " + l.stateName(l.state)
	lines := []string{title, theme.Render(theme.Quiet, fit.Cut(filter, l.width))}
	if l.finding || l.find.Value() != "" {
		lines = append(lines, fit.Cut("find: "+l.find.View(max(1, l.width-8)), l.width))
	}
	return append(lines, theme.Render(theme.Title, l.columns("DATE", "STATE", "ENGINE", "STAGES", "PROCEDURE")))
}

// columns lays one row out; a narrow screen has no room for the stages.
func (l List) columns(date, state, engine, stages, procedure string) string {
	line, tag := fit.Pad("  "+date, 13)+fit.Pad(state, 9), 7
	if l.width >= narrow {
		tag, stages = 15, fit.Pad(stages, 9)
	} else {
		stages = ""
	}
	const least = 8 // cells of the procedure: an engine's tag is cut last
	tag = max(tag, min(fit.Width(engine), l.width-fit.Width(line)-fit.Width(stages)-1-least))
	return fit.Cut(line+fit.Pad(fit.Cut(engine, tag), tag+1)+stages+procedure, l.width)
}

func (l List) line(i int) string {
	e := l.entries[l.shown[i]]
	state := clean(e.State)
	if e.HeldBy != "" {
		state += "*"
	}
	text := l.columns(e.Started.Format("2006-01-02"), state, clean(e.Engine), fmt.Sprintf("%d/%d", e.Confirmed, e.Of), clean(e.Procedure))
	if i != l.list.At {
		return text
	}
	return theme.Render(theme.Current, fit.Pad(theme.Text("▸")+text[1:], l.width))
}

// rows is how many records the screen has room for.
func (l List) rows() int { return max(0, l.height-len(l.head())-len(l.foot())) }

// foot says more of the row in hand, and the keys that matter.
func (l List) foot() []string {
	if l.height < minimal {
		return nil
	}
	about := []string{"", ""}
	if l.notice != "" {
		copy(about, fit.Wrap(l.notice, l.width))
	} else if l.list.At < len(l.shown) {
		copy(about, fit.Wrap(l.entries[l.shown[l.list.At]].about(), l.width))
	}
	for i := range about {
		about[i] = theme.Render(theme.Quiet, fit.Cut(about[i], l.width))
	}
	k := l.keys()
	hints := []key.Binding{k.Look, k.Find, k.Sort, k.State, k.Leave, k.Help}
	if l.finding {
		hints = l.findKeys().all()
	}
	return append(about, keys.Short(l.width, hints...))
}
