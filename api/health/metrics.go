package health

import (
	"net/http"
	"strconv"
	"time"

	"github.com/prometheus/client_golang/prometheus"
	"github.com/prometheus/client_golang/prometheus/collectors"
	"github.com/prometheus/client_golang/prometheus/promhttp"
)

// Metrics are the figures of a server, of its own: two servers in one process share
// none.
type Metrics struct {
	registry *prometheus.Registry
	requests *prometheus.CounterVec
	seconds  *prometheus.HistogramVec
	working  prometheus.Gauge
	faults   *prometheus.CounterVec
}

// NewMetrics makes the figures. running is how many of the feed's listeners there are.
func NewMetrics(listeners func() int) *Metrics {
	m := &Metrics{
		registry: prometheus.NewRegistry(),
		requests: prometheus.NewCounterVec(prometheus.CounterOpts{
			Name: "benchmeet_requests_total", Help: "Requests that were answered, by route, method and status.",
		}, []string{"route", "method", "status"}),
		seconds: prometheus.NewHistogramVec(prometheus.HistogramOpts{
			Name: "benchmeet_request_seconds", Help: "How long answers took, sending included, by route.",
			Buckets: []float64{.001, .005, .02, .1, .5, 2, 10},
		}, []string{"route"}),
		working: prometheus.NewGauge(prometheus.GaugeOpts{
			Name: "benchmeet_requests_working", Help: "Requests that are being answered now, without the listeners of the live feed.",
		}),
		faults: prometheus.NewCounterVec(prometheus.CounterOpts{
			Name: "benchmeet_work_faults_total", Help: "Faults of the program that work beside the requests met, by the work.",
		}, []string{"work"}),
	}
	m.registry.MustRegister(
		m.requests, m.seconds, m.working, m.faults,
		prometheus.NewGaugeFunc(
			prometheus.GaugeOpts{Name: "benchmeet_live_listeners", Help: "Screens and phones on the live feed."},
			func() float64 { return float64(listeners()) },
		),
		collectors.NewGoCollector(), collectors.NewProcessCollector(collectors.ProcessCollectorOpts{}),
	)
	return m
}

// Fault counts a fault that work beside the requests met.
func (m *Metrics) Fault(work string) { m.faults.WithLabelValues(work).Inc() }

// answered counts a request.
func (m *Metrics) answered(route, method string, status int, took time.Duration) {
	m.requests.WithLabelValues(route, method, strconv.Itoa(status)).Inc()
	m.seconds.WithLabelValues(route).Observe(took.Seconds())
}

// Handler shows the figures in the form of Prometheus.
func (m *Metrics) Handler() http.Handler {
	return promhttp.HandlerFor(m.registry, promhttp.HandlerOpts{})
}
