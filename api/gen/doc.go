// Package gen is generated from api/openapi.yaml: the types of the API and the
// server interface that api/rest implements. Change the contract, run
// "make generate", and never edit the generated file.
package gen

//go:generate go tool oapi-codegen -config config.yaml ../openapi.yaml
