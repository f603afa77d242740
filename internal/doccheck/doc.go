// Package doccheck holds no code: its test reads the exported API of the five
// packages and fails where
//
//   - an exported function or method has no comment with a line "Source:", the
//     words "Common practice" or the word "Definition"; methods that only fit a
//     type to the standard library (String, Format, Error and the like) need a
//     comment, but no source;
//   - an exported type, constant, variable or field has no comment; one comment
//     may speak for a block, the comments of a type and its fields for the fields
//     that they name, and a field that is named after its type for itself;
//   - a package has no package comment or no Example;
//   - a package imports a sibling, or anything but the standard library,
//     gonum and the library's own internal packages.
package doccheck
