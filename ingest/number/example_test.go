package number_test

import (
	"fmt"

	"repsift/ingest/number"
)

func ExampleParse() {
	for _, text := range []string{"0,41 m/s", "1.234,5", "225 lb", "85 %", "1:05.2", "1,234", "12O"} {
		v, err := number.Parse(text, number.AnyMark)
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Println(v.V, v.Step, v.Unit, v.Percent)
	}
	// Output:
	// 0.41 0.01 m/s false
	// 1234.5 0.1  false
	// 225 1 lb false
	// 85 1  true
	// 65.2 0.1 s false
	// "1,234" can be a whole number with a thousands mark or a number with a fraction; declare decimal
	// "12O" is not a number
}

func ExampleEvidence() {
	var e number.Evidence
	for _, text := range []string{"1,234", "0,987", "--"} {
		e.Add(text)
	}
	mark, sure := e.Mark()
	v, _ := number.Parse("1,234", mark)
	fmt.Println(mark, sure, v.V)
	// Output: , true 1.234
}
