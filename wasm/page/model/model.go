package model

import (
	"encoding/json"

	"threeply/proof/session"
	"threeply/wasm/page/prints"
	"threeply/wasm/page/view"
)

// Model is all that the page shows. Lengths say their unit in their name; frames,
// pins and arrows lie on the stage, in CSS pixels.
type Model struct {
	Fixed
	Notices
	Head
	Plates
	Neutrals
	Pointed
	Registering
	Looking
	Stage
	Marks
	Pins
	Residual
	Loupe
	Reading
	Points
	Tissues
	Turns
	Printed
	Figures
	Section
	OnBench
	Review
	Forms
}

// Input is what the model is made from. Nothing in it is changed.
type Input struct {
	Session    *session.State
	Undo, Redo string // name what can be undone and redone, "" for nothing
	Opened     int    // counts the sets that were opened
	Asked      bool   // the names of the files do not say which plate is which
	Plates     prints.Plates
	View       *view.View
	Prints     *prints.Prints
	Residual   *view.Residual
	Proposal   *Proposal // of another key, nil for none
	Search     Search
	Levels     LevelsInput
	Notices    Notices
	Coming     string // the title of the kept set that is on its way, "" for none
}

// Maker makes the model and keeps its parts. The zero Maker is ready.
type Maker struct {
	fixed    part[struct{}, Fixed]
	notices  part[Notices, Notices]
	head     part[headOn, Head]
	plates   part[platesOn, Plates]
	neutrals part[neutralsOn, Neutrals]
	greys    part[greysOn, Pointed]
	register part[registerOn, Registering]
	looking  part[Looking, Looking]
	stage    part[stageOn, Stage]
	marks    part[marksOn, Marks]
	pins     part[pinsOn, Pins]
	residual part[residualOn, Residual]
	loupe    part[loupeOn, Loupe]
	reading  part[readingOn, Reading]
	points   part[pointsOn, Points]
	tissues  part[tissuesOn, Tissues]
	turns    part[turnsOn, Turns]
	printed  part[printedOn, Printed]
	figures  part[figuresOn, Figures]
	section  part[sectionOn, Section]
	bench    part[benchOn, OnBench]
	review   part[reviewOn, Review]
	forms    part[formsOn, Forms]
}

// Prepare makes the model for the first time, with pauses: the browser compiles every function as
// it is called first, and those that make a model are many.
func (m *Maker) Prepare(in Input, pause func()) { m.byPieces(in, pause) }

// Make gives the model as it stands.
func (m *Maker) Make(in Input) Model { return m.byPieces(in, func() {}) }

// byPieces is Make with a pause between pieces of the work.
func (m *Maker) byPieces(in Input, pause func()) Model {
	var out Model
	out.Fixed = m.fixed.of(struct{}{}, makeFixed)
	out.Notices = m.notices.of(in.Notices, func(n Notices) Notices { return n })
	out.Plates = m.plates.of(onPlates(in), makePlates)
	pause()
	out.Neutrals = m.neutrals.of(onNeutrals(in), makeNeutrals)
	out.Pointed = m.greys.of(onGreys(in), makeGreys)
	pause()
	out.Registering = m.register.of(onRegister(in), makeRegister)
	pause()
	out.Looking = m.looking.of(onLooking(in), func(l Looking) Looking { return l })
	out.Stage = m.stage.of(onStage(in), makeStage)
	pause()
	out.Marks = m.marks.of(onMarks(in), makeMarks)
	out.Pins = m.pins.of(onPins(in), makePins)
	pause()
	out.Residual = m.residual.of(onResidual(in), makeResidual)
	out.Loupe = m.loupe.of(onLoupe(in), makeLoupe)
	out.Reading = m.reading.of(onReading(in), makeReading)
	out.Points = m.points.of(onPoints(in), makePoints)
	pause()
	out.Tissues = m.tissues.of(onTissues(in), makeTissues)
	pause()
	out.Turns = m.turns.of(onTurns(in), makeTurns)
	out.Printed = m.printed.of(onPrinted(in), makePrinted)
	pause()
	out.Figures = m.figures.of(onFigures(in, out.Sample), makeFigures)
	out.Section = m.section.of(onSection(in), func(sectionOn) Section { return Section{m.section.times + 1} })
	out.OnBench = m.bench.of(onBench(in), func(on benchOn) OnBench { return OnBench{makeBench(on)} })
	pause()
	out.Review = m.review.of(onReview(in), makeReview)
	out.Forms = m.forms.of(onForms(in), makeForms)
	pause()
	out.Head = m.head.of(onHead(in, out), makeHead)
	return out
}

// JSON gives the model as the page reads it: one object with the fields of all parts.
// It fails where a figure is no number, which is a fault of the program.
func (m *Maker) JSON(in Input) (json.RawMessage, error) {
	m.Make(in)
	out := []byte{'{'}
	for _, part := range []interface {
		json() (json.RawMessage, error)
	}{
		&m.fixed, &m.notices, &m.head, &m.plates, &m.neutrals, &m.greys, &m.register, &m.looking, &m.stage, &m.marks,
		&m.pins, &m.residual, &m.loupe, &m.reading, &m.points, &m.tissues, &m.turns, &m.printed, &m.figures, &m.section, &m.bench, &m.review, &m.forms,
	} {
		text, err := part.json()
		if err != nil {
			return nil, err
		}
		if len(out) > 1 {
			out = append(out, ',')
		}
		out = append(out, text[1:len(text)-1]...) // without its braces
	}
	return append(out, '}'), nil
}
