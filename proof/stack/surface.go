package stack

// Surface is how the outer face of the print returns light.
//
//	R_measured = K0 + (1-K1)(1-K2) R / (1 - K2 R)
//
// (J. L. Saunderson, JOSA 32, 1942, 727). K0 is the surface light that reaches
// the eye or the instrument, K1 what the face turns back of the light coming
// in, K2 what it turns back of the diffuse light from inside.
type Surface struct {
	K0 float64 `json:"k0"`
	K1 float64 `json:"k1"`
	K2 float64 `json:"k2"`
}

// Finish is a named surface.
type Finish struct {
	ID, Name string
	Surface  Surface
}

// K1 0.04 and K2 0.60 are in common use for binders of index 1.5 (from Fresnel:
// 0.040 and 0.596). K0 at 45°/0° is half of what the face turns back on matt, which
// spreads it over the half space; a little on gloss, whose mirror image misses the eye but
// for what relief and dust scatter; satin lies between. So blacks come out near what the
// trade has, density 1.4 to 1.7 on matt and 1.8 to 2.2 on gloss (from memory); what holds
// the modern sets below that on gloss is said at balance.HowDeep.
var (
	Gloss = Finish{"gloss", "Gloss", Surface{0.003, 0.04, 0.60}}
	Satin = Finish{"satin", "Satin", Surface{0.010, 0.04, 0.60}}
	Matt  = Finish{"matt", "Matt", Surface{0.020, 0.04, 0.60}}
)

// Finishes lists the named surfaces, glossy first.
func Finishes() []Finish { return []Finish{Gloss, Satin, Matt} }

// FinishByID returns the finish of that id.
func FinishByID(id string) (Finish, bool) {
	for _, f := range Finishes() {
		if f.ID == id {
			return f, true
		}
	}
	return Finish{}, false
}

// Outside returns what is measured of a body of inner reflectance r.
func (s Surface) Outside(r float64) float64 {
	return s.K0 + (1-s.K1)*(1-s.K2)*r/(1-s.K2*r)
}

// Inside is the inverse of Outside. What is measured darker than K0 has an
// inner reflectance of 0.
func (s Surface) Inside(measured float64) float64 {
	m := max(0, measured-s.K0)
	return m / ((1-s.K1)*(1-s.K2) + s.K2*m)
}
