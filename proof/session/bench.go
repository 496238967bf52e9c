package session

import (
	"threeply/proof/negative"
	"threeply/proof/transfer"
	"threeply/proof/workshop"
)

// Setup is how the printing negatives are made: as the user has it, else as usual. It
// shares its film's table with the state and is not to be written to.
func (s *State) Setup() negative.Setup {
	if s.Negatives == nil {
		return negative.Usual
	}
	return *s.Negatives
}

// Works is how the workshop prints: as the user has it, else as usual.
func (s *State) Works() workshop.Workshop {
	if s.Workshop == nil {
		return workshop.Usual
	}
	return *s.Workshop
}

func (s *State) checkBench() *Fault {
	if err := s.Setup().Check(); err != nil {
		return fault("negatives", "%v", err)
	}
	if s.Route == transfer.Own {
		if err := s.Transfer().Check(); err != nil {
			return fault("own_route", "%v", err)
		}
	}
	if err := s.Works().Check(); err != nil {
		return fault("workshop.process", "%v", err)
	}
	return nil
}

// BaseExposures are those of the layers, by printer; 0 where one was not measured.
func (s *State) BaseExposures() (base [3]float64) {
	for i, l := range s.Works().Layers {
		base[i] = l.Exposure
	}
	return base
}
