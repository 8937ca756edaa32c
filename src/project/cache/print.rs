//! Prints of texts, by which they are known again.

use std::hash::{Hash, Hasher};
use std::io::{self, Write};

use siphasher::sip128::{Hasher128, SipHasher13};

pub type Key = (u64, u64);

/// 128 bits that no two lists of texts share but by an accident that will not happen, in hexadecimal.
pub fn print(key: Key, texts: &[&str]) -> String {
    let mut hasher = hasher(key);
    texts.iter().for_each(|text| text.hash(&mut hasher));
    shown(&hasher)
}

/// A text whose last line is the print of all before it, as it is written.
pub struct Printed<'a> {
    out: &'a mut dyn Write,
    hasher: SipHasher13,
}

impl<'a> Printed<'a> {
    pub fn new(key: Key, out: &'a mut dyn Write) -> Printed<'a> {
        Printed { out, hasher: hasher(key) }
    }

    pub fn line(&mut self, line: &str) -> io::Result<()> {
        for bytes in [line.as_bytes(), b"\n"] {
            self.hasher.write(bytes);
            self.out.write_all(bytes)?;
        }
        Ok(())
    }

    pub fn end(self) -> io::Result<()> {
        self.out.write_all(shown(&self.hasher).as_bytes())
    }
}

/// Such a text ends as it should.
pub fn is_whole(key: Key, lines: &str, last: &str) -> bool {
    let mut hasher = hasher(key);
    hasher.write(lines.as_bytes());
    last == shown(&hasher)
}

fn hasher(key: Key) -> SipHasher13 {
    SipHasher13::new_with_keys(key.0, key.1)
}

fn shown(hasher: &SipHasher13) -> String {
    let hash = hasher.finish128();
    format!("{:016x}{:016x}", hash.h1, hash.h2)
}
