package cli

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"evenpull/spec"
	"evenpull/spec/bolt"
	"evenpull/spec/clamp"
	"evenpull/spec/quantity"
)

// clampFlags are the words after clamp, as typed.
type clampFlags struct {
	class, torque, friction, bench, bore, turn, grip, into, engagement, tool, form, stretch, prevailing, edition string
	parts, head, bearing, hole                                                                                   string
	shank, waist, waistLength, crossHole, metal                                                                  string
	preload, share, warm, cold                                                                                   string
	tools                                                                                                        tools
	nutFactor                                                                                                    float64
	wireInsert, json                                                                                             bool
	procedure, pass                                                                                              string
	compare                                                                                                      bool
}

func (a *app) clampCommand() *cobra.Command {
	var f clampFlags
	cmd := &cobra.Command{
		Use:   "clamp THREAD --class C [--torque T]  |  clamp --procedure FILE",
		Short: "What a figure does to its bolt, and what the bolts do to each other: estimates",
		Long: `What a figure does to its bolt, and with --procedure what the bolts of a cover do
to each other: estimates.

For --procedure the file describes the cover under [cover]. Its thickness is that of
the metal between the joint face and the seats of the bolt heads, where it is solid
from bolt to bolt: of a cover the flange, not the roof or ribs; of a head the height
under the bolt heads if walls join the bosses, else the deck. What comes out is no
reason to skip a pass or change the order.`,
		Example: `  evenpull clamp M8 --class 8.8 --torque "25 N·m" --friction oiled
  evenpull clamp M10x1.25 --class 10.9 --torque "30 N·m" --turn 90° --grip "112 mm"
  evenpull clamp M8 --class 8.8 --friction oiled --preload 15kN
  evenpull clamp M8 --class 8.8 --torque "20 N·m" --grip "40 mm" --parts magnesium --warm 90°C
  evenpull clamp --procedure head-torque-turn --compare`,
		RunE: func(cmd *cobra.Command, args []string) error {
			if f.procedure != "" {
				return a.clampProcedure(cmd, f, args)
			}
			if f.compare || f.pass != "" {
				return usage("--pass and --compare go with --procedure FILE")
			}
			if len(args) == 0 {
				return usage("clamp takes a thread such as M8x1.25, or --procedure FILE; see: %s --help", cmd.CommandPath())
			}
			return a.clampBolt(f, strings.Join(args, " "))
		},
	}
	fl := cmd.Flags()
	fl.StringVar(&f.class, "class", "", "property `CLASS`: 8.8, A2-70, SAE 5")
	fl.StringVar(&f.torque, "torque", "", "`TORQUE` on the wrench; with --turn the snug torque before it")
	fl.StringVar(&f.friction, "friction", "", "`FRICTION`: dry, oiled, moly, threadlock, or a number from 0.04 to 0.5")
	fl.StringVar(&f.bench, "bench", "", "`FRICTION` of the threads on the bench, when the figure is for another")
	fl.StringVar(&f.bore, "bore", "", "`LENGTH`: bore of a hollow bolt")
	fl.StringVar(&f.turn, "turn", "", "`ANGLE` after the torque; needs --grip")
	fl.StringVar(&f.stretch, "stretch", "", "`LENGTH`: measured stretch instead of a torque; needs --grip")
	fl.StringVar(&f.grip, "grip", "", "clamp `LENGTH`, head to first engaged thread")
	fl.StringVar(&f.parts, "parts", "", "`MATERIAL`: what is clamped, for a turn, a stretch or heat: steel (default), cast aluminium …")
	fl.StringVar(&f.shank, "shank", "", "`LENGTH` of plain shank within the grip; \"0 mm\": thread up to the head")
	fl.StringVar(&f.waist, "waist", "", "`DIAMETER` the shank is turned down to")
	fl.StringVar(&f.waistLength, "waist-length", "", "`LENGTH` of the waist, if not all of the shank")
	fl.StringVar(&f.crossHole, "cross-hole", "", "`DIAMETER` of a hole through the side")
	fl.StringVar(&f.metal, "bolt-material", "", "`METAL` of the bolt: by its class (default), steel, stainless steel, titanium")
	fl.StringVar(&f.preload, "preload", "", "`FORCE` to aim at instead of a torque: what torque gives it")
	fl.StringVar(&f.share, "share", "", "`SHARE` of proof load to aim at instead of a torque (default 75%)")
	fl.StringVar(&f.warm, "warm", "", "`TEMPERATURE` when running: what it makes of the clamp; needs --grip and --parts")
	fl.StringVar(&f.cold, "cold", "", "`TEMPERATURE` when tightened (default 20°C)")
	fl.StringVar(&f.tools.file, "wrenches", "", "`FILE` of wrenches, for a torque aimed at (default: wrenches.toml in your settings folder)")
	fl.StringArrayVar(&f.tools.wrench, "wrench", nil, "only this `WRENCH`, by name; may be given again")
	fl.StringVar(&f.tools.adapter, "adapter", "", "`ADAPTER` on the drive, by name")
	fl.StringVar(&f.head, "head", "", "`FORM` of the head: hexagon (default), socket, flange")
	fl.StringVar(&f.bearing, "bearing", "", "outside `DIAMETER` the head bears on, if not the standard's")
	fl.StringVar(&f.hole, "hole", "", "`DIAMETER` of the hole under the head, if not the standard's")
	fl.StringVar(&f.into, "into", "", "`MATERIAL` the thread is in: cast aluminium, iron …; needs --engagement")
	fl.StringVar(&f.engagement, "engagement", "", "`LENGTH` of full threads engaged")
	fl.BoolVar(&f.wireInsert, "wire-insert", false, "the hole has a wire thread insert")
	fl.StringVar(&f.tool, "tool", "", "`TOOL` it is tightened by: torque wrench (default), angle, by feel …")
	fl.StringVar(&f.form, "form", "", "`FORMULA`: VDI 2230 tables (default, the exact tangent), VDI 2230, VDI 2230 rounded, K·F·d")
	fl.StringVar(&f.edition, "edition", "", "VDI 2230 edition, by its `YEAR`: 2001 (default) or 1986")
	fl.Float64Var(&f.nutFactor, "nut-factor", 0, "`K` of the form K·F·d")
	fl.StringVar(&f.prevailing, "prevailing", "", "running `TORQUE` of a locking nut, part of the wrench's figure")
	fl.StringVar(&f.procedure, "procedure", "", "what the bolts of this `PROCEDURE` do to each other")
	fl.StringVar(&f.pass, "pass", "", "with --procedure: every bolt after this `PASS`")
	fl.BoolVar(&f.compare, "compare", false, "with --procedure: the sheet's order against others")
	fl.BoolVar(&f.json, "json", false, "as JSON")
	a.completeClamp(cmd)
	a.completeTools(cmd, &f.tools)
	return cmd
}

// question is a bolt and its figure, read from the flags.
type question struct {
	joint     clamp.Joint
	torqueNm  float64 // 0 with a stretch
	unit      string
	degrees   float64
	stretchMM float64
	grip      clamp.Grip
	bench     *clamp.Friction
	into      bolt.Material
	engagedMM float64
	insert    bool
	aim       *aim
	heat      *heat
}

// asking gathers what is wrong with several flags, so that all is said at once.
type asking struct{ problems []error }

func (k *asking) bad(flag string, err error) {
	if err != nil {
		k.problems = append(k.problems, fmt.Errorf("%s: %w", flag, err))
	}
}

// length reads a length over 0; 0 when the flag is not given.
func (k *asking) length(flag, text string) float64 {
	if text == "" {
		return 0
	}
	l, err := quantity.ParseLength(text)
	if err == nil && l.Mm() <= 0 {
		err = fmt.Errorf("%s is no length over 0; leave it out for none", text)
	}
	k.bad(flag, err)
	return l.Mm()
}

func (k *asking) torque(flag, text string) quantity.Torque {
	if text == "" {
		return quantity.Torque{}
	}
	t, err := quantity.ParseTorque(text)
	if err == nil && t.Nm() <= 0 {
		err = fmt.Errorf("%s is no torque over 0; give one such as 25 N·m", text)
	}
	k.bad(flag, err)
	return t
}

func (k *asking) friction(flag, text string) clamp.Friction {
	if text == "" {
		return clamp.Friction{}
	}
	f, err := clamp.ParseFriction(text)
	k.bad(flag, err)
	return f
}

// read turns the flags into a question. What is missing is wrong usage, what
// cannot be is a problem.
func (f clampFlags) read(thread string) (question, error) {
	if err := f.missing(); err != nil {
		return question{}, err
	}
	var k asking
	var q question
	var err error
	q.joint.Thread, err = bolt.ParseThread(thread)
	k.bad("thread", err)
	q.joint.Class, err = bolt.ParseClass(f.class)
	k.bad("--class", err)
	q.joint.Friction = k.friction("--friction", f.friction)
	q.joint.BoreMM = k.length("--bore", f.bore)
	q.joint.WaistMM, q.joint.CrossHoleMM = k.length("--waist", f.waist), k.length("--cross-hole", f.crossHole)
	q.joint.PrevailingNm = k.torque("--prevailing", f.prevailing).Nm()
	q.joint.NutFactor = f.nutFactor
	q.joint.BearingMM, q.joint.HoleMM = k.length("--bearing", f.bearing), k.length("--hole", f.hole)
	f.options(&k, &q.joint)
	t := k.torque("--torque", f.torque)
	q.torqueNm, q.unit = t.Nm(), t.Unit().Symbol()
	q.stretchMM = k.length("--stretch", f.stretch)
	f.gripped(&k, &q.grip)
	if f.aiming() {
		q.aim = f.aimed(&k)
	}
	q.heat = f.heated(&k)
	if f.turn != "" {
		angle, err := quantity.ParseAngle(f.turn)
		if err == nil && angle.Degrees() <= 0 {
			err = fmt.Errorf("%s is no angle over 0; give one such as 90°", f.turn)
		}
		k.bad("--turn", err)
		q.degrees = angle.Degrees()
	}
	if f.bench != "" {
		b := k.friction("--bench", f.bench)
		q.bench = &b
	}
	q.engagedMM, q.insert = k.length("--engagement", f.engagement), f.wireInsert
	q.grip.Tapped = q.engagedMM > 0
	if f.into != "" {
		q.into, err = bolt.ParseMaterial(f.into)
		k.bad("--into", err)
		q.grip.HoleGPa = q.into.ElasticGPa
	}
	return q, problem(errors.Join(k.problems...))
}

// missing refuses flags that only make sense together.
func (f clampFlags) missing() error {
	switch {
	case f.class == "":
		return usage(`clamp needs the class of the bolt: --class 8.8`)
	case countGiven(f.torque, f.stretch, f.preload, f.share) > 1:
		return usage("--torque, --stretch, --preload and --share are ways to say how tight; keep one")
	case f.turn != "" && f.torque == "":
		return usage(`--turn counts from a snug torque: add --torque "30 N·m"`)
	case (f.turn != "" || f.stretch != "") && f.grip == "":
		return usage(`a turn or a stretch needs the clamp length: --grip "52 mm"`)
	case f.parts != "" && f.grip == "":
		return usage(`--parts goes with --grip and a turn, a stretch or --warm`)
	case (f.shank != "" || f.waistLength != "") && f.grip == "":
		return usage(`a shank is part of the clamp length: add --grip "52 mm"`)
	case f.waistLength != "" && f.waist == "":
		return usage(`--waist-length goes with --waist, its diameter`)
	case f.warm != "" && (f.grip == "" || f.parts == ""):
		return usage(`heat needs what is clamped and how long it is: --parts "cast aluminium" --grip "40 mm"`)
	case f.cold != "" && f.warm == "":
		return usage(`--cold goes with --warm, the temperature when running`)
	case f.wrenched() && !f.aiming():
		return usage(`--wrench, --wrenches and --adapter go with a torque to be found: --preload or --share`)
	case (f.into == "") != (f.engagement == ""):
		return usage(`--into and --engagement go together: --into "cast aluminium" --engagement "16 mm"`)
	case f.wireInsert && f.into == "":
		return usage(`--wire-insert goes with --into and --engagement`)
	}
	return nil
}

// options are the words that name a method.
func (f clampFlags) options(k *asking, j *clamp.Joint) {
	if f.tool != "" {
		tool, err := clamp.ParseTool(f.tool)
		k.bad("--tool", err)
		j.Tool = tool
	}
	if f.form != "" {
		form, err := clamp.ParseForm(f.form)
		k.bad("--form", err)
		j.Form = form
	}
	if f.head != "" {
		head, err := bolt.ParseHead(f.head)
		k.bad("--head", err)
		j.Head = head
	}
	switch strings.TrimSpace(f.edition) {
	case "", "2001":
	case "1986":
		j.Edition = clamp.Older
	default:
		k.bad("--edition", fmt.Errorf("there is no edition %q here; use 2001 or 1986", spec.Printable(f.edition)))
	}
}
