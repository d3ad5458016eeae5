package importer

import (
	"errors"
	"slices"
	"strings"

	"overwinter/internal/fault"
)

// Located gives a store's conflict over the folder's rows with the file and row of each row that it names by its kind
// and key; any other error comes back as it is. Large files are read again for it.
func (f *Folder) Located(err error) error {
	var told *fault.Error
	if !errors.As(err, &told) || told.Kind != fault.Conflict {
		return err
	}
	named := *told
	named.Fields = slices.Clone(told.Fields)
	at := map[string][]*fault.Field{} // by kind and key: two things may be wrong with one row
	for i := range named.Fields {
		at[named.Fields[i].Where] = append(at[named.Fields[i].Where], &named.Fields[i])
	}
	for _, t := range f.run.tables {
		kind := string(t.kind) + " "
		if !slices.ContainsFunc(told.Fields, func(f fault.Field) bool { return strings.HasPrefix(f.Where, kind) }) {
			continue
		}
		lost := t.again(func(e entered) error {
			row := kind + e.record.Base().Key
			for _, f := range at[row] {
				*f = fault.Field{Where: t.place(e.line, "").String(), Message: row + ": " + f.Message}
			}
			delete(at, row)
			return nil
		})
		if lost != nil { // the conflict is what matters
			return err
		}
	}
	return &named
}
