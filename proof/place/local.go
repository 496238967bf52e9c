package place

import (
	"threeply/proof/session"
	"threeply/proof/warp"
)

// Local returns the smooth rest that is added to source i's matrix, or nil:
// it belongs to the automatic register against its own key.
func Local(s *session.State, i int) *warp.Local {
	if !s.LocalOn || s.LocalOff[i] || s.By != session.ByRegister || !LocalFits(s) || s.Local[i].W == 0 || s.Found[i].ByHand {
		return nil
	}
	return &s.Local[i]
}

// LocalFits tells whether the key is the one that was registered to, and lies where
// it lay then.
func LocalFits(s *session.State) bool {
	return s.Registered == "auto" && s.FoundKey == s.KeySource() && !s.Found[s.FoundKey].ByHand
}
