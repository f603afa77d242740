package doccheck

import (
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestExportedAPI(t *testing.T) {
	for _, name := range []string{"motor", "battery", "conductor", "tank", "inverter"} {
		t.Run(name, func(t *testing.T) {
			faults, err := checkPackage(os.DirFS("../.."), name, "ridethrough.example/"+name)
			require.NoError(t, err)
			for _, fault := range faults {
				t.Error(fault)
			}
		})
	}
}

const good = `// Package good is as it should be.
package good

import (
	"math"

	"gonum.org/v1/gonum/unit"

	"ridethrough.example/internal/domain"
)

// Limits of everything.
const (
	Least = 1
	Most  = 2
)

const (
	// One is commented alone.
	One = 1
	Two = 2 // so is this
)

// ErrDomain is what every argument error is.
var ErrDomain = domain.ErrDomain

// A Box has sides.
type Box struct {
	Width, Height unit.Length // inside (m)

	// Depth and Count speak for a block.
	Depth unit.Length
	Count int

	hidden int
}

// A Drop is lost in cable and contacts (V).
type Drop struct{ Cable, Contacts unit.Voltage }

// A Crate is full.
type Crate struct {
	Box    Box
	Weight unit.Mass // gross, Tare and what is inside

	Tare unit.Mass
}

// Area returns w·h (m²).
//
// Definition.
func (b Box) Area() unit.Area { return unit.Area(math.Abs(float64(b.Width * b.Height))) }

// String returns the sides.
func (b Box) String() string { return "" }

// Double returns 2·x.
//
// Source: a standard, table 3.
func Double(x float64) float64 { return 2 * x }

// Half returns x/2. Common practice.
func Half(x float64) float64 { return x / 2 }

func quiet() {}
`

const goodTest = `package good_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"

	"ridethrough.example/good"
)

func Example() {
	fmt.Println("yes")
	// Output: yes
}

func TestNothing(t *testing.T) { assert.NotNil(t, good.Double) }
`

const bad = `package bad

import (
	"example.org/other"

	"ridethrough.example/tank"
)

const Least = 1

const (
	One = 1 // commented
	Two = 2
)

var Global = 3

type Box struct {
	Width int

	// Height is commented.
	Height int

	Depth int
}

// Area returns w·h, and does not say who says so.
func (b Box) Area() int { return 0 }

func (b Box) String() string { return "" }

func Double(x float64) float64 { return 2 * x }
`

const badTest = `package bad

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"ridethrough.example/motor"
)

func TestNothing(t *testing.T) { assert.NotNil(t, motor.Horsepower) }
`

func TestCheckPassesWhatIsGood(t *testing.T) {
	faults, err := checkPackage(fstest.MapFS{
		"good/good.go":      {Data: []byte(good)},
		"good/good_test.go": {Data: []byte(goodTest)},
	}, "good", "ridethrough.example/good")
	require.NoError(t, err)
	assert.Empty(t, faults)
}

func TestCheckFindsWhatIsBad(t *testing.T) {
	faults, err := checkPackage(fstest.MapFS{
		"bad/bad.go":      {Data: []byte(bad)},
		"bad/bad_test.go": {Data: []byte(badTest)},
	}, "bad", "ridethrough.example/bad")
	require.NoError(t, err)
	for i, fault := range faults {
		_, faults[i], _ = strings.Cut(fault, ": ")
	}
	assert.ElementsMatch(t, []string{
		"no package comment",
		"no Example",
		"import example.org/other, want the standard library, gonum or internal",
		"import ridethrough.example/tank, want the standard library, gonum or internal",
		"import ridethrough.example/motor, want the standard library, gonum or internal",
		"constant Least has no comment",
		"constant Two has no comment",
		"variable Global has no comment",
		"type Box has no comment",
		"field Box.Width has no comment",
		"field Box.Depth has no comment",
		`Box.Area names no source: want "Source:", "Common practice" or "Definition"`,
		"Box.String has no comment",
		"Double has no comment",
	}, faults)
}

func TestCheckWantsFiles(t *testing.T) {
	_, err := checkPackage(fstest.MapFS{"none/readme": {}}, "none", "none")
	assert.Error(t, err)
	_, err = checkPackage(fstest.MapFS{"odd/odd.go": {Data: []byte("package")}}, "odd", "odd")
	assert.Error(t, err)
}
