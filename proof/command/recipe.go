package command

import (
	"fmt"

	"threeply/proof/session"
)

func spreads(c Command, s *session.State) error {
	if c.Spread == nil {
		return fmt.Errorf("no spreads are given")
	}
	s.Spread = *c.Spread
	return nil
}
