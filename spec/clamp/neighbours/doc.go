// Package neighbours estimates what tightening or loosening one bolt does to
// the bolts around it.
//
// The cover (or head) is an elastic plate lying on an elastic joint face, the bolts
// are springs at their real places. A bolt that is drawn down sinks the cover near
// it, and every neighbour that was already tight grows a little shorter and loses
// clamp; a bolt that comes out lets the cover rise and loads the ones still in. A
// [Model] holds one joint; [Model.Tighten] and [Model.Loosen] walk it through passes
// of steps. What a model says is good to a [Band], no better: that was found by
// comparing it with solid finite elements of cover and base.
//
// Every figure is an estimate. The assumptions, which [Model.Assumptions] also
// gives as text for the page that shows a result:
//   - the cover is flat and of one thickness; the joint face goes on without end about
//     the bolts ([New]), is a strip along them ([NewRim]), or half way between
//     ([NewBetween]): real faces lie between the two;
//   - ribs, walls and corners of the cover are not modelled;
//   - the joint face answers each point with a pressure in proportion to its
//     closing, the same whether it loads or unloads, and can pull as well as
//     push, where it would in truth part;
//   - a bolt acts at a point, stays elastic, and never pushes: one that loses all
//     its clamp hangs slack until the cover or its own turning takes up the gap;
//   - nothing settles, creeps or is crushed.
//
// The package imports nothing of the project and does no input or output.
// Lengths are mm, forces N, stiffnesses N/mm, moduli MPa (N/mm²), the joint-face
// modulus N/mm³ (pressure per closing).
package neighbours
