package process

import (
	"fmt"
	"strings"

	"threeply/proof/export"
	"threeply/proof/pigment"
	"threeply/proof/workshop"
)

// dry are the steps of a layer for dry hands: coating, sensitising, exposing. letter says how
// the letter that is drawn beside the picture reads there.
func (b *builder) dry(l Layer, works workshop.Sensitised, tissue pigment.Tissue, letter string) []Step {
	toxic := strings.Join(export.ToxicNotes(pigment.Palette{}.WithLayer(l.Printer, tissue)), " ")
	setup := b.session.Setup()
	coat := "Coat the tissue, or take one of the batch; note the batch."
	if works.Coat.Given() {
		window := export.NegativeLayout(b.session).Opaque
		cm2 := float64(window.W()) * float64(window.H()) / b.session.Setup().PPI / b.session.Setup().PPI * 2.54 * 2.54
		coat = fmt.Sprintf("Coat %.3g mm wet: %.3g g/l pigment, %.3g %% gelatine, %.3g %% sugar. Dry it weighs %.2f g more on a tissue of this size.", works.Coat.Wet, works.Coat.Pigment, works.Coat.Gelatine, works.Coat.Sugar, works.Coat.Weighed(cm2))
	}
	if toxic == "" {
		toxic = "Raise no pigment dust; work wet."
	}
	bath := "Sensitise. A bath of 2 to 5 % is usual: more of it is faster and softer." // American Carbon Manual
	if l.Bath != "" {
		bath = fmt.Sprintf("Sensitise: %s.", l.Bath)
	}
	return []Step{
		{Do: coat, Write: []string{"batch"}, Danger: toxic},
		{Do: bath, Write: []string{"sensitised at", "bath °C"}, Danger: "Gloves and eye protection; dichromates: no skin contact, no dust, collect the waste."},
		{Do: "Dry in the dark, 5 to 8 h. Fresh tissue is harder; a day or two old it is softer.", Write: []string{"dry at", "RH %"}},
		{Do: fmt.Sprintf("Lay the %s negative on the tissue, %s down: its label reads right from the lamp. Film, then glass; vacuum on.", l.Name, setup.SideName()), Letter: letter, Danger: "Glass under vacuum can implode."},
		{Do: "Expose.", Time: orBlank(l.Exposure, b.works), Small: l.Minutes, Letter: letter, Write: []string{"lamp", "exposed at"}, Danger: "UV: do not look at the lamp, cover skin."},
		{Do: "Mate it soon: moist tissue goes on hardening in the dark.", Letter: letter, Write: []string{"mate by"}},
	}
}

// orBlank is an exposure, or room to write it.
func orBlank(exposure string, w workshop.Workshop) string {
	if exposure != "" {
		return exposure
	}
	return "______ " + w.UnitName()
}

// wet are the steps for wet hands of layer i, in the order in which layers are put down:
// mating, developing, drying. onTissue says how the letter reads on the tissue.
func (b *builder) wet(i int, onTissue string) []Step {
	p := b.works.Process
	printer, support := b.put[i], b.route.Supports[0]
	soak := "Soak the tissue in cold water until it lies flat; paper-backed 3 to 5 min."
	if p.Film {
		soak = "Soak the tissue in cold water until it lies flat; on thin film 1 to 2 min."
	}
	mate := fmt.Sprintf("Lay it face down on the %s and squeegee from the middle out.", support)
	if i > 0 {
		by := "the marks cover those of " + names(b.put[:i], " and ")
		if b.works.Register == workshop.ByPins {
			by = "it lies on the pins"
		}
		mate = fmt.Sprintf("Lay it face down on the %s, over %s, so that %s; squeegee from the middle out.", support, names(b.put[:i], " and "), by)
	}
	light := ""
	if printer == pigment.Yellow {
		light = " Yellow cannot be seen under a yellow safelight: go by the word on the label."
	}
	steps := []Step{
		{Do: soak + light, Time: minutes(p.Soak)},
		{Do: mate, Write: []string{"mated at"}},
		{Do: "Leave it under weight.", Time: minutes(p.Mate), Write: []string{"develop at"}},
		{Do: fmt.Sprintf("Develop in warm water until the backing slides off by itself, no warmer than needed; never above %.3g °C.", p.Most), Time: fmt.Sprintf("%.3g °C", p.Develop), Write: []string{"°C", "backing off at"}, Danger: "Hot water scalds."},
		{Do: "Wash in a second, clean bath of the same warmth until nothing more runs off, then chill in cold water."},
		{Do: fmt.Sprintf("Alum %.3g %%, then rinse.", p.Alum), Time: minutes(p.AlumTime)},
		{Do: "Dry without warmth.", Write: []string{"dry at", "°C", "RH %"}},
	}
	steps = append(steps, Step{Do: "With a diazo sensitiser: flash the dry layer out with UV, so that none is left that can act.", Danger: "UV: do not look at the lamp."})
	for k := range steps {
		if steps[k].Letter = onTissue; k > 2 { // off the backing
			steps[k].Letter = reads(b.steps[0].Right)
		}
	}
	return steps
}

// turn is a move of the whole stack onto support i.
func (b *builder) turn(i int) Leaf {
	step, last := b.steps[i], i == len(b.steps)-1
	p := b.works.Process
	onto := "Soak the " + step.Support + " in cold water."
	if last {
		onto = "Soak the paper with its hardened gelatine in cold water, then warm it through."
	}
	leaf := Leaf{Title: fmt.Sprintf("Turn onto the %s", step.Support), Steps: []Step{
		{Do: fmt.Sprintf("The stack on the %s is thoroughly dry.", b.steps[i-1].Support), Write: []string{"dry since", "RH %"}, Letter: reads(b.steps[i-1].Right)},
		{Do: onto, Time: minutes(p.Soak), Danger: "Hot water scalds."},
		{Do: "Lay face to face without a bubble, squeegee from the middle out, and press.", Write: []string{"together at"}},
	}}
	if last {
		leaf.Steps = append(leaf.Steps, Step{Do: "Leave in contact under weight about an hour, then hang to dry. Keep the grain of the paper as on the test."})
	}
	leaf.Steps = append(leaf.Steps,
		Step{Do: "Part them when they are thoroughly dry, not before.", Write: []string{"parted at"}, Letter: reads(step.Right)},
		Step{Do: fmt.Sprintf("On the %s, from the support up: %s.", step.Support, names(step.Layers, ", ")), Letter: reads(step.Right)},
	)
	for k := range leaf.Steps {
		if leaf.Steps[k].Letter == "" {
			leaf.Steps[k].Letter = reads(b.steps[i-1].Right)
		}
	}
	return leaf
}

// end is the last leaf: the finished print is checked and measured.
func (b *builder) end() Leaf {
	p := b.works.Process
	return Leaf{Title: "The print", Steps: []Step{
		{Do: "The letter reads right, and the scale bars measure 100 mm: note by how much they do not.", Write: []string{"across mm", "down mm"}, Letter: "right"},
		{Do: fmt.Sprintf("Rest the print at %.0f %% relative humidity before it is measured.", p.Humidity), Time: fmt.Sprintf("%.3g h", p.Settle)},
		{Do: "Measure both wedges and the neutrals, and enter them: the next proof is a better one.", Write: []string{"measured at"}},
		{Do: "Trim to the trim allowance."},
	}}
}
