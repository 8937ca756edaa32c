//! The records that a file is made of.

use crate::output::drawing::dxf::codes::Codes;
use crate::output::drawing::dxf::file::{MODEL, PAPER};
use crate::output::drawing::scene::Point;

pub fn section(codes: &mut Codes, name: &str, inside: impl FnOnce(&mut Codes)) {
    codes.all(&[(0, "SECTION"), (2, name)]);
    inside(codes);
    codes.put(0, "ENDSEC");
}

pub fn table(codes: &mut Codes, name: &str, handle: &str, count: usize) {
    codes.all(&[(0, "TABLE"), (2, name), (5, handle), (330, "0"), (100, "AcDbSymbolTable")]);
    codes.put(70, count);
}

pub fn record(codes: &mut Codes, kind: &str, handle: &str, owner: &str, class: &str, name: &str) {
    codes.all(&[
        (0, kind),
        (5, handle),
        (330, owner),
        (100, "AcDbSymbolTableRecord"),
        (100, class),
        (2, name),
        (70, "0"),
    ]);
}

pub fn layer(codes: &mut Codes, handle: &str, [name, color, weight]: [&str; 3]) {
    record(codes, "LAYER", handle, "2", "AcDbLayerTableRecord", name);
    codes.all(&[(62, color), (6, "Continuous"), (370, weight)]);
}

/// Broken lines, in mm of paper.
pub fn line_types(codes: &mut Codes) {
    let types: [(&str, &str, &str, &[f64]); 6] = [
        ("14", "ByBlock", "", &[]),
        ("15", "ByLayer", "", &[]),
        ("16", "Continuous", "whole", &[]),
        ("17", "DASHED", "covered edges", &[1.5, -0.75]),
        ("18", "CHAIN", "folds and axes", &[4.0, -0.75, 0.25, -0.75]),
        ("19", "DOTTED", "what is spread on", &[0.0, -1.0]),
    ];
    table(codes, "LTYPE", "5", types.len());
    for (handle, name, means, dashes) in types {
        record(codes, "LTYPE", handle, "5", "AcDbLinetypeTableRecord", name);
        codes.all(&[(3, means), (72, "65")]);
        codes.put(73, dashes.len());
        codes.real(40, dashes.iter().map(|dash| dash.abs()).sum());
        for dash in dashes {
            codes.real(49, *dash);
            codes.put(74, 0);
        }
    }
    codes.put(0, "ENDTAB");
}

pub fn block(codes: &mut Codes, name: &str, [record, begin, end]: [&str; 3], flags: &str, entities: &str) {
    codes.all(&[
        (0, "BLOCK"),
        (5, begin),
        (330, record),
        (100, "AcDbEntity"),
        (8, "0"),
        (100, "AcDbBlockBegin"),
        (2, name),
    ]);
    codes.put(70, flags);
    codes.point(10, Point::new(0.0, 0.0));
    codes.all(&[(3, name), (1, "")]);
    codes.text.push_str(entities);
    codes.all(&[(0, "ENDBLK"), (5, end), (330, record), (100, "AcDbEntity"), (8, "0"), (100, "AcDbBlockEnd")]);
}

/// The dictionaries that a file has at least, and the layouts of the two spaces.
pub fn objects(codes: &mut Codes) {
    codes.all(&[(0, "DICTIONARY"), (5, "C"), (330, "0"), (100, "AcDbDictionary"), (281, "1")]);
    codes.all(&[(3, "ACAD_GROUP"), (350, "D"), (3, "ACAD_LAYOUT"), (350, "1A")]);
    codes.all(&[(0, "DICTIONARY"), (5, "D"), (330, "C"), (100, "AcDbDictionary"), (281, "1")]);
    codes.all(&[(0, "DICTIONARY"), (5, "1A"), (330, "C"), (100, "AcDbDictionary"), (281, "1")]);
    codes.all(&[(3, "Model"), (350, "22"), (3, "Layout1"), (350, "1E")]);
    for (handle, name, tab, space) in [("22", "Model", "0", MODEL), ("1E", "Layout1", "1", PAPER)] {
        codes.all(&[
            (0, "LAYOUT"),
            (5, handle),
            (330, "1A"),
            (100, "AcDbPlotSettings"),
            (1, ""),
            (2, ""),
            (4, ""),
            (6, ""),
        ]);
        for code in [40, 41, 42, 43, 44, 45, 46, 47, 48, 49, 140, 141] {
            codes.real(code, 0.0);
        }
        codes.all(&[
            (142, "1.0"),
            (143, "1.0"),
            (70, if space == MODEL { "1024" } else { "0" }),
            (72, "1"),
            (73, "0"),
            (74, "5"),
        ]);
        codes.all(&[(7, ""), (75, "16"), (147, "1.0"), (148, "0.0"), (149, "0.0")]);
        codes.all(&[(100, "AcDbLayout"), (1, name), (70, "1"), (71, tab)]);
        for (code, x, y) in [(10, 0.0, 0.0), (11, 420.0, 297.0)] {
            codes.real(code, x);
            codes.real(code + 10, y);
        }
        for code in [12, 14, 15] {
            codes.point(code, Point::new(0.0, 0.0));
        }
        codes.real(146, 0.0);
        codes.point(13, Point::new(0.0, 0.0));
        codes.point(16, Point::new(1.0, 0.0));
        codes.point(17, Point::new(0.0, 1.0));
        codes.put(76, 0);
        codes.put(330, space);
    }
}
