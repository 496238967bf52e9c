package plate

// Filter is the taking filter that a plate is named by.
type Filter int

// The three filters, in the order of a set's Assign.
const (
	Red Filter = iota
	Green
	Blue
)

// Filters lists the three filters.
var Filters = [3]Filter{Red, Green, Blue}

func (f Filter) String() string { return [...]string{"red", "green", "blue"}[f] }

// Printer is the layer that the plate makes: the filter's complement.
func (f Filter) Printer() string { return [...]string{"cyan", "magenta", "yellow"}[f] }

// Layout says how the three plates lie in the files.
type Layout string

// The layouts.
const (
	Separate Layout = "separate" // three files, one a plate
	Tall     Layout = "tall"     // one file, three exposures one below the other
	Channels Layout = "channels" // one colour file whose channels are the plates
)

// Polarity says whether a plate is dense where the scene was bright.
type Polarity string

// The polarities.
const (
	Negative Polarity = "negative"
	Positive Polarity = "positive"
)
