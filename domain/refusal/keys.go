package refusal

import "maps"

// ofKeys are the sentences about who somebody is and what their key opens.
var ofKeys = map[Code]string{
	"not-your-meet":    "This key is for another meet alone: ask the organiser for one of this meet.",
	"not-your-club":    "This key is for another club on this server: open the whole link that came with it.",
	"no-club":          "No club of this server has this address: open the whole link that your club gave you.",
	"several-clubs":    "Several clubs share this server: open the whole link that your club gave you.",
	"clubs-not-yours":  "Clubs are invited by an organiser of the club that runs this server: ask there.",
	"club-short":       "“{short}” cannot be a club’s short name: take 1 to 40 lower-case letters, digits and hyphens, beginning with a letter and ending with a letter or digit.",
	"club-host":        "“{host}” is not a host name that can lead to a club: take one such as harbour.example, without http and without a path.",
	"club-host-taken":  "Another club has the host name “{host}”: take another one.",
	"club-other":       "The short name “{short}” is that of another club: take another one.",
	"account-role":     "Only an organiser who came by a link of their own can sign in by a name and a password: ask for such a link.",
	"account-name":     "A name to sign in with has 1 to {most} characters: type another one.",
	"account-taken":    "Somebody else of the club signs in as “{name}”: take another name.",
	"password-length":  "A password has {least} to {most} characters: take four or five words that nobody would put together.",
	"password-wrong":   "Name and password do not fit together: type both again, or ask another organiser for a link.",
	"passwords-busy":   "Many people sign in at this moment, and nothing was changed: try again in a few seconds.",
	"sign-in-wait":     "After wrong tries the next one has to wait: try again in {seconds} s.",
	"link-used":        "This link signed in a browser already, and is good for one: ask the organiser for a new one.",
	"no-session":       "There is no such session: it may have ended already.",
	"token-meet":       "The meet is over: say until when the key is to be good.",
	"token-benches":    "Name the benches that the key is for.",
	"token-no-benches": "Only a volunteer’s or a counter box’s key is for benches.",
	"token-end":        "The key would end in the past: choose an end that lies ahead.",
	"token-long":       "A key is good for at most {days} days: choose an earlier end.",
	"many-requests":    "Too many requests came from here at once: wait a moment and try again.",
	"many-sign-ins":    "Too many sign-ins failed from here: wait a minute, then use a key that is valid.",
	"no-token":         "There is no such key: look at the list of keys.",
	"no-person":        "Nobody here has the id {person}: look at the list of people.",
	"name-blank":       "Nothing of this name can be seen: write one that can be read.",
	"name-odd":         "A name stands in one line, without control characters and without marks that turn the direction of writing: type it again.",
	"bad-run-id":       "No run can be sent under the id “{id}”: take 1 to {most} letters, digits, dots, hyphens and underscores, beginning with a letter or digit.",
	"json-twice":       "“{name}” stands twice in one object: send each name once.",
	"car-reference":    "Car {number} is a reference car, with which nobody races: enter another car, or take that mark off the car first.",
	"name-long":        "This has {length} characters; at most {most} fit here: shorten it.",
	"birth-no-date":    "“{date}” is no birth date: give a day of the calendar, from 1900 to today, or leave it out.",
	"sign-in":          "Sign in first: open the link or scan the code that the organiser gave you.",
	"not-allowed":      "Your token ({role}) is not for this: ask the organiser.",
	"not-your-bench":   "Your token is not for this bench: ask the organiser for the right one.",
	"bad-token":        "This token is not known here, or is not valid any more: ask the organiser for a new one.",
	"bad-token-wish":   "There is no role “{role}” for a key.",
}

// joined is one catalogue of several.
func joined(parts ...map[Code]string) map[Code]string {
	all := map[Code]string{}
	for _, part := range parts {
		maps.Copy(all, part)
	}
	return all
}
