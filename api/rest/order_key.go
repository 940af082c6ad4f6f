package rest

import (
	"net/http"

	"github.com/google/uuid"
)

// orderKeyHeader is the header in which an order carries its id.
const orderKeyHeader = "Idempotency-Key"

// nameOrder has every answer to an order, a refusal too, name the order: so its
// sender tells it from the answer of whatever else stands in between, and from
// the answer to another order.
func nameOrder(r *http.Request, answer http.Header) {
	if !unsafe(r.Method) {
		return
	}
	if key, err := uuid.Parse(r.Header.Get(orderKeyHeader)); err == nil {
		answer.Set(orderKeyHeader, key.String())
	}
}

// unsafe says whether a request of this method may change something (RFC 9110, 9.2.1).
func unsafe(method string) bool {
	return method != http.MethodGet && method != http.MethodHead && method != http.MethodOptions
}
