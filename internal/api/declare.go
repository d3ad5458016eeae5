package api

import (
	"reflect"
	"slices"
	"strconv"

	"github.com/danielgtaylor/huma/v2"
)

const schemaPrefix = "#/components/schemas/"

// content declares a JSON body of a type.
func content[T any](a *API) map[string]*huma.MediaType {
	return map[string]*huma.MediaType{jsonType: {Schema: a.schema(reflect.TypeFor[T]())}}
}

func (a *API) schema(t reflect.Type) *huma.Schema {
	return a.huma.OpenAPI().Components.Schemas.Schema(t, true, "")
}

// declareProblems adds the problem answers that an operation may give.
func (a *API) declareProblems(op *huma.Operation, statuses []int) {
	slices.Sort(statuses)
	for _, status := range slices.Compact(statuses) {
		op.Responses[strconv.Itoa(status)] = &huma.Response{
			Description: byStatus(status).Means,
			Content:     map[string]*huma.MediaType{problemType: {Schema: a.schema(reflect.TypeFor[Problem]())}},
		}
	}
}
