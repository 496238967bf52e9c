package plate

// Layout says how the three plates lie in the files.
type Layout string

// The layouts.
const (
	Separate Layout = "separate" // three files, one a plate
	Tall     Layout = "tall"     // one file, three exposures one below the other
	Channels Layout = "channels" // one colour file whose channels are the plates
	Pages    Layout = "pages"    // one TIFF of three pages, a plate each
)

// Polarity says whether a plate is dense where the scene was bright.
type Polarity string

// The polarities.
const (
	Negative Polarity = "negative"
	Positive Polarity = "positive"
)
