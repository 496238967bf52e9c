package leaf

import "reflect"

// plain is what a template is shown, with maps of their fields in place of structs. So a
// template asks for data alone, never for a method: the page's programs are linked without
// the methods that are called by name only (tools/bundle), and a sheet that asks for one
// fails everywhere, not only there. Maps and bytes stay as they are.
func plain(v reflect.Value) any {
	switch v.Kind() {
	case reflect.Invalid:
		return nil
	case reflect.Pointer, reflect.Interface:
		return plain(v.Elem())
	case reflect.Struct:
		fields := map[string]any{}
		for _, f := range reflect.VisibleFields(v.Type()) {
			if f.IsExported() {
				fields[f.Name] = plain(v.FieldByIndex(f.Index))
			}
		}
		if len(fields) > 0 {
			return fields
		}
	case reflect.Slice, reflect.Array:
		if v.Type().Elem().Kind() == reflect.Uint8 {
			break
		}
		list := make([]any, v.Len())
		for i := range list {
			list[i] = plain(v.Index(i))
		}
		return list
	}
	return v.Interface()
}
