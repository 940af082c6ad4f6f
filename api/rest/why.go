package rest

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/getkin/kin-openapi/openapi3filter"

	"benchmeet/api/wire"
)

// why says in words what the contract does not allow and where. Of what was sent it
// repeats names only, and of long ones the beginning; of our programs it says nothing.
func why(e *openapi3filter.RequestError) string {
	where := ""
	if e.Parameter != nil {
		where = kindOfParameter[e.Parameter.In] + " " + e.Parameter.Name + ": "
	}
	var schema *openapi3.SchemaError
	if errors.As(e.Err, &schema) {
		if path := strings.Join(schema.JSONPointer(), "/"); path != "" {
			where += wire.Short(path) + ": "
		}
		return where + broken(schema)
	}
	var unread *openapi3filter.ParseError
	switch {
	case errors.Is(e.Err, openapi3filter.ErrInvalidRequired) && e.Parameter == nil:
		return "this needs a body"
	case errors.Is(e.Err, openapi3filter.ErrInvalidRequired):
		return where + "it is missing"
	case errors.Is(e.Err, openapi3filter.ErrInvalidEmptyValue):
		return where + "it is empty"
	case errors.As(e.Err, &unread) && e.Parameter != nil && e.Parameter.Schema != nil:
		return where + "this is " + kindOf(e.Parameter.Schema.Value)
	case e.Parameter == nil:
		return "the body is of a kind that is not taken here; send JSON with its Content-Type"
	}
	return where + "it cannot be read"
}

var kindOfParameter = map[string]string{
	openapi3.ParameterInPath: "in the address,", openapi3.ParameterInQuery: "in the query,",
	openapi3.ParameterInHeader: "in the header,", openapi3.ParameterInCookie: "in the cookie,",
}

// broken says what rule of a schema is broken.
func broken(e *openapi3.SchemaError) string {
	s := e.Schema
	switch e.SchemaField {
	case "required":
		return "it is missing"
	case "properties":
		// The name is nowhere but in the reason.
		quoted := strings.TrimSuffix(strings.TrimPrefix(e.Reason, "property "), " is unsupported")
		if name, err := strconv.Unquote(quoted); err == nil {
			return "nothing of the name “" + wire.Short(name) + "” belongs here"
		}
		return "something in it does not belong here"
	case "nullable":
		return "it cannot be null; leave it out"
	case "enum":
		var words []string
		for _, v := range s.Enum {
			words = append(words, fmt.Sprint(v))
		}
		return "this is one of " + strings.Join(words, ", ")
	case "minimum":
		return fmt.Sprintf("at least %g", *s.Min)
	case "maximum":
		return fmt.Sprintf("at most %g", *s.Max)
	case "minLength":
		return fmt.Sprintf("at least %d characters", s.MinLength)
	case "maxLength":
		return fmt.Sprintf("at most %d characters", *s.MaxLength)
	case "minItems":
		return fmt.Sprintf("at least %d of them", s.MinItems)
	case "maxItems":
		return fmt.Sprintf("at most %d of them", *s.MaxItems)
	case "minProperties":
		return fmt.Sprintf("at least %d names", s.MinProps)
	case "maxProperties":
		return fmt.Sprintf("at most %d names", *s.MaxProps)
	case "uniqueItems":
		return "one of them stands twice"
	case "pattern", "format", "type":
		return "this is " + kindOf(s)
	}
	return "it is not as the contract has it"
}

// patterns are the forms of texts in the contract, in words.
var patterns = map[string]string{
	"^[A-Za-z0-9][A-Za-z0-9._-]*$": "an id: letters and digits, with dots, dashes and underscores behind the first",
	"^[0-9]{4}-[0-9]{2}-[0-9]{2}$": "a day such as 2027-04-17",
	"^[0-9a-f]{16}$":               "16 hexadecimal digits in small letters",
	"^[0-9]{1,4}$":                 "a car number of one to four digits",
	"^[0-2][0-9]:[0-5][0-9]$":      "an hour such as 09:30",
}

var formats = map[string]string{
	"uuid": "a UUID", "date-time": "an instant such as 2027-04-17T09:30:00Z", "byte": "a file in base64",
}

// kindOf is what a schema is for, in words.
func kindOf(s *openapi3.Schema) string {
	for _, part := range s.AllOf {
		if part.Value != nil {
			return kindOf(part.Value)
		}
	}
	if words := patterns[s.Pattern]; words != "" {
		return words
	}
	if words := formats[s.Format]; words != "" {
		return words
	}
	switch {
	case s.Type.Is("integer"):
		return "a whole number, written in digits alone, such as 100"
	case s.Type.Is("number"):
		return "a number"
	case s.Type.Is("boolean"):
		return "true or false"
	case s.Type.Is("array"):
		return "a list"
	case s.Type.Is("object"):
		return "an object"
	}
	return "a text"
}
