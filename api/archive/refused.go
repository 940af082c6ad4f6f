package archive

import "fmt"

// refused is a sentence that is an ErrRefused without saying so.
type refused struct{ error }

func (r refused) Unwrap() []error { return []error{r.error, ErrRefused} }

func refuse(format string, args ...any) error { return refused{fmt.Errorf(format, args...)} }

// unreadable is a sentence that is an ErrUnreadable without saying so.
type unreadable struct{ error }

func (u unreadable) Unwrap() []error { return []error{u.error, ErrUnreadable} }

func cannotRead(format string, args ...any) error { return unreadable{fmt.Errorf(format, args...)} }
