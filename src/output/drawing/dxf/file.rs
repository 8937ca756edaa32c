//! What a file holds besides its entities: header, tables, blocks, and the objects that programs ask for.

use crate::output::drawing::dxf::codes::{Codes, words};
use crate::output::drawing::dxf::layer::{LAYERS, Names};
use crate::output::drawing::dxf::record::{block, layer, line_types, objects, record, section, table};
use crate::output::drawing::paper::WORDS;
use crate::output::drawing::scene::{Area, Point};

/// Handles of the two spaces that there always are.
pub const MODEL: &str = "1F";
pub const PAPER: &str = "1B";

/// A name for shapes that belong together.
pub struct Block {
    pub name: String,
    /// Handles of its record, its begin and its end.
    pub record: String,
    begin: String,
    end: String,
    pub entities: String,
}

impl Block {
    pub fn new(name: String, codes: &mut Codes) -> Block {
        Block { name, record: codes.handle(), begin: codes.handle(), end: codes.handle(), entities: String::new() }
    }
}

pub struct File<'a> {
    pub names: &'a Names,
    pub inches: bool,
    /// How much larger than on paper.
    pub scale: f64,
    pub area: Area,
    pub entities: Codes,
    pub blocks: Vec<Block>,
}

impl File<'_> {
    pub fn text(mut self) -> String {
        let entities = std::mem::take(&mut self.entities.text);
        let mut codes = std::mem::take(&mut self.entities);
        let layers: Vec<(String, [String; 3])> = LAYERS
            .iter()
            .map(|(of, _, color, weight)| {
                let name = words(self.names.of(*of));
                (codes.handle(), [name, color.to_string(), weight.to_string()])
            })
            .collect();
        let seed = codes.seed();
        self.header(&mut codes, &seed);
        section(&mut codes, "CLASSES", |_| {});
        section(&mut codes, "TABLES", |codes| self.tables(codes, &layers));
        section(&mut codes, "BLOCKS", |codes| self.write_blocks(codes));
        section(&mut codes, "ENTITIES", |codes| codes.text.push_str(&entities));
        section(&mut codes, "OBJECTS", objects);
        codes.put(0, "EOF");
        codes.text
    }

    fn header(&self, codes: &mut Codes, seed: &str) {
        section(codes, "HEADER", |codes| {
            codes.all(&[
                (9, "$ACADVER"),
                (1, "AC1015"),
                (9, "$DWGCODEPAGE"),
                (3, "ANSI_1252"),
                (9, "$HANDSEED"),
                (5, seed),
            ]);
            let at = |x: f64, y: f64| Point::new(x, y);
            for (name, point) in [
                ("$INSBASE", at(0.0, 0.0)),
                ("$EXTMIN", at(self.area.left, self.area.top)),
                ("$EXTMAX", at(self.area.right, self.area.bottom)),
            ] {
                codes.put(9, name);
                codes.point(10, point);
            }
            codes.put(9, "$LTSCALE");
            codes.real(40, self.scale);
            let (unit, metric) = if self.inches { ("1", "0") } else { ("4", "1") };
            codes.all(&[(9, "$INSUNITS"), (70, unit), (9, "$MEASUREMENT"), (70, metric), (9, "$LUNITS"), (70, "2")]);
        });
    }

    fn tables(&self, codes: &mut Codes, layers: &[(String, [String; 3])]) {
        table(codes, "VPORT", "8", 1);
        let middle = self.area.center();
        record(codes, "VPORT", "94", "8", "AcDbViewportTableRecord", "*Active");
        for (code, x, y) in [(10, 0.0, 0.0), (11, 1.0, 1.0), (12, middle.x, middle.y)] {
            codes.real(code, x);
            codes.real(code + 10, y);
        }
        codes.real(40, self.area.height().max(self.area.width() / 1.5) * 1.1);
        codes.real(41, 1.5);
        codes.put(0, "ENDTAB");
        line_types(codes);
        table(codes, "LAYER", "2", layers.len() + 1);
        layer(codes, "10", ["0", "7", "25"]);
        layers.iter().for_each(|(handle, [name, color, weight])| layer(codes, handle, [name, color, weight]));
        codes.put(0, "ENDTAB");
        table(codes, "STYLE", "3", 1);
        record(codes, "STYLE", "11", "3", "AcDbTextStyleTableRecord", "Standard");
        // A little narrow, so that words keep to the room that the drawing gave them.
        codes.all(&[(40, "0.0"), (41, "0.9"), (50, "0.0"), (71, "0"), (42, "2.5"), (3, "txt"), (4, ""), (0, "ENDTAB")]);
        for (name, handle) in [("VIEW", "6"), ("UCS", "7")] {
            table(codes, name, handle, 0);
            codes.put(0, "ENDTAB");
        }
        table(codes, "APPID", "9", 1);
        record(codes, "APPID", "12", "9", "AcDbRegAppTableRecord", "ACAD");
        codes.put(0, "ENDTAB");
        table(codes, "DIMSTYLE", "A", 1);
        codes.all(&[(100, "AcDbDimStyleTable"), (71, "1"), (0, "DIMSTYLE"), (105, "27"), (330, "A")]);
        codes.all(&[(100, "AcDbSymbolTableRecord"), (100, "AcDbDimStyleTableRecord"), (2, "Standard"), (70, "0")]);
        codes.real(40, self.scale);
        codes.real(140, WORDS);
        // A stroke across each end, whole millimeters or hundredths of an inch, no zeros behind them.
        codes.real(142, 1.1);
        codes.all(&[(271, if self.inches { "2" } else { "0" }), (78, "8"), (340, "11"), (0, "ENDTAB")]);
        table(codes, "BLOCK_RECORD", "1", self.blocks.len() + 2);
        let own = self.blocks.iter().map(|block| (&*block.name, &*block.record, "0"));
        for (name, handle, layout) in
            [("*Model_Space", MODEL, "22"), ("*Paper_Space", PAPER, "1E")].into_iter().chain(own)
        {
            codes.all(&[(0, "BLOCK_RECORD"), (5, handle), (330, "1"), (100, "AcDbSymbolTableRecord")]);
            codes.all(&[(100, "AcDbBlockTableRecord"), (2, name), (340, layout)]);
        }
        codes.put(0, "ENDTAB");
    }

    fn write_blocks(&self, codes: &mut Codes) {
        block(codes, "*Model_Space", [MODEL, "20", "21"], "0", "");
        block(codes, "*Paper_Space", [PAPER, "1C", "1D"], "0", "");
        for own in &self.blocks {
            block(codes, &own.name, [&own.record, &own.begin, &own.end], "1", &own.entities);
        }
    }
}
