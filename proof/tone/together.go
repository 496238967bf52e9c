package tone

// Together gives films that agree on greys (the same LogExposure for one grey,
// as neutral.Fit and light.Balance make them) one white and one black of the
// scene. thin and dense are the densities that bound the useful picture on each
// plate: the white is the lightest that any plate holds and the black the
// darkest, so that no plate loses what it has, and a grey stays grey from end to
// end. base is the density of base and fog, below 0 where it is not known: the
// black is no darker than where the first plate runs out, for below that it would
// give the others' shadows a cast.
func Together(films [3]Film, thin, dense, base [3]float64) [3]Film {
	var white, black float64
	for i, f := range films {
		light, dark := f.LogExposure(dense[i]), f.LogExposure(thin[i])
		if !f.Negative {
			light, dark = dark, light
		}
		if i == 0 {
			white, black = light, dark
		}
		white, black = max(white, light), min(black, dark)
	}
	for i, f := range films {
		if f.Negative && base[i] >= 0 {
			black = max(black, f.LogExposure(base[i]))
		}
	}
	for i, f := range films {
		films[i].White, films[i].Black = f.Density(white), f.Density(black)
	}
	return films
}
