package session

import (
	"fmt"
	"slices"
	"time"

	"threeply/proof/testsheet"
)

// Printed is a test sheet whose negatives were made: it stays what it is, whatever becomes of its
// palette, so that readings of it can be fitted to.
type Printed struct {
	Code    string `json:"code"`    // as it stands on its films
	Palette string `json:"palette"` // name of its palette, "" where its plan did not say
	At      string `json:"at"`      // when its plan was written, RFC 3339; "" where it did not say
	Plan    string `json:"plan"`    // JSON, as testsheet.Read reads it
}

// MostPrinted bounds the test sheets that a session keeps.
const MostPrinted = 8

// PrintedAt is the place of a test sheet in Printed by its code, or -1.
func (s *State) PrintedAt(code string) int {
	return slices.IndexFunc(s.Printed, func(p Printed) bool { return p.Code == code })
}

// TestSheets are the test sheet that readings are of, and all that readings can be of: that of the
// palette as it is now, and those that were printed.
func (s *State) TestSheets() (of testsheet.Sheet, known []testsheet.Sheet) {
	palette, _ := s.PaletteByID(s.Palette)
	known = append(known, testsheet.Of(palette))
	of = known[0]
	for _, p := range s.Printed {
		sheet, _, err := testsheet.Read([]byte(p.Plan))
		if err != nil {
			continue // Read and commands let no such plan in
		}
		if known = append(known, sheet); p.Code == s.TestSheet {
			of = sheet
		}
	}
	return of, known
}

func (s *State) checkPrinted() *Fault {
	if len(s.Printed) > MostPrinted {
		return fault("printed_sheets", "%d test sheets: there can be %d", len(s.Printed), MostPrinted)
	}
	for i, p := range s.Printed {
		at := fmt.Sprintf("printed_sheets[%d]", i)
		if !testsheet.IsCode(p.Code) || s.PrintedAt(p.Code) != i {
			return fault(at+".code", "two test sheets have the code “%.10s”, or it is none", p.Code)
		}
		if _, err := time.Parse(time.RFC3339, p.At); err != nil && p.At != "" {
			return fault(at+".at", "“%.40s” is no time as RFC 3339 has it", p.At)
		}
	}
	if s.TestSheet != "" && s.PrintedAt(s.TestSheet) < 0 {
		return fault("test_sheet", "there is no test sheet “%.10s”", s.TestSheet)
	}
	return nil
}

// checkPlans reads the plans of the test sheets. A plan comes into a session by its text and by
// the command KeepSheet, which writes it: so this is for texts alone, and not for every change.
func (s *State) checkPlans() *Fault {
	for i, p := range s.Printed {
		at := fmt.Sprintf("printed_sheets[%d].plan", i)
		sheet, _, err := testsheet.Read([]byte(p.Plan))
		if err != nil {
			return fault(at, "%v", err)
		}
		if code := sheet.Code(); code != p.Code {
			return fault(at, "this is the plan of the test sheet %s, not of %s", code, p.Code)
		}
	}
	return nil
}
