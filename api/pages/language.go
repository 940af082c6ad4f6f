package pages

import (
	"net/http"
	"regexp"
	"strings"

	"golang.org/x/text/language"
)

// LanguageCookie holds the language that somebody chose on a page (web/src/lib/i18n/choice.ts).
const LanguageCookie = "benchmeet-language"

var tag = regexp.MustCompile(`^[a-z]{2,3}$`)

// spokenPage is the page of a face that begins with the texts of the reader's language, which
// the build put beside it: "bench.de.html". What was chosen on this device comes first, then
// what the browser wants, in its order and as far as there is a page for it. Without one it is
// the face's own.
//
// Only what a page loads first depends on it: the page itself decides the same way, and loads
// what is missing.
func (p packedFiles) spokenPage(r *http.Request, page string) string {
	name, _ := strings.CutSuffix(page, ".html")
	for _, wanted := range wantedLanguages(r) {
		if wanted == ownLanguage {
			break
		}
		if spoken := name + "." + wanted + ".html"; p.has(spoken) {
			return spoken
		}
	}
	return page
}

// ownLanguage is that of the pages without a language in their names.
const ownLanguage = "en"

// wantedLanguages are the languages of a request, the first wanted first.
func wantedLanguages(r *http.Request) []string {
	if chosen, err := r.Cookie(LanguageCookie); err == nil && tag.MatchString(chosen.Value) {
		return []string{chosen.Value}
	}
	tags, _, err := language.ParseAcceptLanguage(r.Header.Get("Accept-Language"))
	if err != nil {
		return nil // a browser that says something else gets the face's own
	}
	var wanted []string
	for _, t := range tags {
		base, _ := t.Base()
		wanted = append(wanted, base.String())
	}
	return wanted
}
