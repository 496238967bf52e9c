package command

import (
	"encoding/json"
	"fmt"
	"strings"
	"time"

	"threeply/proof/pigment"
	"threeply/proof/session"
	"threeply/proof/testsheet"
)

// Sight writes down what the eye tells of the test sheet of the palette, so that it is kept until
// it is used. An empty table takes it away.
type Sight struct {
	Table string `json:"table" like:"sight.table"`
}

func (c Sight) Apply(s *session.State) error {
	s.Sight = nil
	if c.Table != "" {
		s.Sight = &session.Sight{Palette: s.Palette, Table: c.Table}
	}
	return nil
}
func (Sight) Words() string { return "what was seen" }

// KeepSheet keeps a test sheet, and has readings be of it from now on: that of the palette as it is
// now, at the time of At, or that of a plan, which says itself when it was written.
type KeepSheet struct {
	Plan string `json:"plan,omitempty" like:"keepSheet.plan"` // JSON, as testsheet.Read reads it; "" for the palette's
	At   string `json:"at,omitempty"`                         // RFC 3339
}

func (c KeepSheet) Apply(s *session.State) error {
	sheet, of := testsheet.Sheet{}, testsheet.Origin{At: c.At}
	if c.Plan == "" {
		palette, _ := s.PaletteByID(s.Palette)
		sheet, of.Palette = testsheet.Of(palette), palette.Name
	} else {
		var err error
		if sheet, of, err = testsheet.Read([]byte(c.Plan)); err != nil {
			return err
		}
		of.Palette = firstLetters(strings.TrimSpace(of.Palette), pigment.MostLetters)
	}
	if _, err := time.Parse(time.RFC3339, of.At); err != nil {
		of.At = ""
	}
	s.TestSheet = sheet.Code()
	if s.PrintedAt(s.TestSheet) >= 0 {
		return nil
	}
	if len(s.Printed) >= session.MostPrinted {
		return fmt.Errorf("%d test sheets are kept already: take one away first", session.MostPrinted)
	}
	plan, err := json.Marshal(sheet)
	if err != nil {
		return err
	}
	s.Printed = append([]session.Printed{{Code: s.TestSheet, Palette: of.Palette, At: of.At, Plan: string(plan)}}, s.Printed...)
	return nil
}
func (KeepSheet) Words() string { return "test sheet" }

// ReadSheet says which of the kept test sheets readings are of, by its code; "" for that of the
// palette as it is now.
type ReadSheet struct {
	Code string `json:"code"`
}

func (c ReadSheet) Apply(s *session.State) error {
	s.TestSheet = c.Code
	return nil // whether it is kept is for the state's check
}
func (ReadSheet) Words() string { return "test sheet" }

// DropSheet takes a kept test sheet away. Where readings were of it, they are of the palette's
// again.
type DropSheet struct {
	Code string `json:"code"`
}

func (c DropSheet) Apply(s *session.State) error {
	i := s.PrintedAt(c.Code)
	if i < 0 {
		return fmt.Errorf("no test sheet “%.10s” is kept", c.Code)
	}
	s.Printed = without(s.Printed, i)
	if s.TestSheet == c.Code {
		s.TestSheet = ""
	}
	return nil
}
func (DropSheet) Words() string { return "test sheet" }
