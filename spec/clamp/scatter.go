package clamp

import (
	"fmt"
	"slices"
	"strings"
)

// Tool is how a fastener is tightened, and how far off that is. One of the two
// percentages counts: TorquePct goes with the friction range; PreloadPct already holds friction.
type Tool struct {
	Name       string
	TorquePct  float64 // deviation of the torque delivered, ±
	PreloadPct float64 // deviation of the preload reached, ±; over 0: friction is in it
	Source     string
}

const (
	nasa      = "NASA preloaded-bolt criteria NSTS 08307, read in print as tabulated in a public report"
	machinery = "Machinery's Handbook accuracy table, read in print as tabulated in a public report"
	vdi1986   = "VDI 2230 (1986) tightening tolerance guide, read in print; its wide end"
)

// What Turn and Stretched go by.
var (
	angleTool   = Tool{"angle", 0, 12, vdi1986}
	stretchTool = Tool{"stretch", 0, 5, nasa}
)

// tools: the first is the usual one.
var tools = []Tool{
	{"torque wrench", 4, 0, "ISO 6789 type II class A over 10 N·m, read in print"},
	{"beam wrench", 6, 0, "ISO 6789 type I class A, from memory"},
	{"small torque wrench", 6, 0, "ISO 6789 type II class A to 10 N·m, read in print"},
	{"torque, unlubricated", 0, 35, nasa},
	{"torque, cadmium plated", 0, 30, nasa},
	{"torque, lubricated", 0, 25, nasa},
	{"torque by test on the joint", 0, 23, vdi1986},
	{"torque from estimated friction", 0, 28, vdi1986},
	{"precision driver", 0, 43, vdi1986},
	angleTool,
	{"yield control", 0, 12, vdi1986},
	{"hydraulic", 0, 23, vdi1986},
	{"turn of nut", 0, 15, machinery},
	{"by feel", 0, 35, machinery},
	{"torque, any wrench", 0, 25, machinery},
	{"computer wrench below yield", 0, 15, machinery},
	{"computer wrench to yield", 0, 8, machinery},
	{"strain gauge", 0, 1, machinery},
	{"ultrasonic by handbook", 0, 1, machinery},
	{"hydraulic tensioner", 0, 15, nasa},
	{"instrumented bolt", 0, 5, nasa},
	stretchTool,
	{"ultrasonic", 0, 10, nasa},
	{"indicating washer", 0, 10, nasa},
	{"impact wrench", 0, 60, "VDI 2230 tightening factor 2.5 to 4, its wide end, from memory"},
}

// ToolNames lists the tool classes.
func ToolNames() []string {
	names := make([]string, len(tools))
	for i, t := range tools {
		names[i] = t.Name
	}
	return names
}

// ParseTool finds a tool class by name; an unknown name is an error with the list.
func ParseTool(text string) (Tool, error) {
	name := strings.ToLower(strings.Join(strings.Fields(text), " "))
	i := slices.IndexFunc(tools, func(t Tool) bool { return t.Name == name })
	if i < 0 {
		return Tool{}, fmt.Errorf("no tool class %.60q; write one of: %s", text, strings.Join(ToolNames(), "; "))
	}
	return tools[i], nil
}

func (m *model) fillTool() error {
	if m.Tool == (Tool{}) {
		m.Tool = tools[0]
	}
	for _, pct := range []float64{m.Tool.TorquePct, m.Tool.PreloadPct} {
		if !(pct >= 0 && pct < 100) {
			return fmt.Errorf("tool %.60q is off by %v %%; give a deviation from 0 to under 100 %%", m.Tool.Name, pct)
		}
	}
	if m.Tool.PreloadPct > 0 {
		m.say("%s: preload ±%.3g %% (%s)", m.Tool.Name, m.Tool.PreloadPct, m.Tool.Source)
	} else {
		m.say("%s: torque ±%.3g %% (%s)", m.Tool.Name, m.Tool.TorquePct, m.Tool.Source)
	}
	return nil
}

// Band is a preload with the range to expect, in newtons.
type Band struct{ LowN, NominalN, HighN float64 }

// band spreads a nominal preload: the least torque at the most friction to the most
// torque at the least friction; or the tool's own preload deviation.
func (m *model) band(netNm, preloadN float64) Band {
	if off := m.Tool.PreloadPct / 100; off > 0 {
		return Band{preloadN * (1 - off), preloadN, preloadN * (1 + off)}
	}
	off := m.Tool.TorquePct / 100
	return Band{
		LowN:     1000 * netNm * (1 - off) / m.leverMM(m.Friction.High, m.HeadFriction.High),
		NominalN: preloadN,
		HighN:    1000 * netNm * (1 + off) / m.leverMM(m.Friction.Low, m.HeadFriction.Low),
	}
}
