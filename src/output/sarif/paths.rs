//! Names of files as references.

use crate::report::Report;

/// Turns shown names into relative references: a log that names folders of one machine is of no use on another.
pub struct Paths {
    /// What absolute names have in common, up to and with a `/`.
    common: String,
}

impl Paths {
    pub fn of(report: &Report) -> Paths {
        let mut absolute = report.sources.values().map(|s| s.name.as_str()).filter(|name| is_absolute(name));
        let folder = |name: &str| name[..name.rfind('/').map_or(0, |slash| slash + 1)].to_owned();
        let mut common = absolute.next().map(folder).unwrap_or_default();
        for name in absolute {
            while !name.starts_with(&common) {
                common = folder(common.trim_end_matches('/'));
            }
        }
        Paths { common }
    }

    pub fn uri(&self, name: &str) -> String {
        let relative = if is_absolute(name) { name.strip_prefix(&self.common).unwrap_or(name) } else { name };
        let mut uri = String::with_capacity(relative.len());
        for byte in relative.trim_start_matches('/').bytes() {
            match byte {
                b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'-' | b'.' | b'_' | b'~' | b'/' => uri.push(byte as char),
                byte => uri.push_str(&format!("%{byte:02X}")),
            }
        }
        uri
    }
}

fn is_absolute(name: &str) -> bool {
    name.starts_with('/') || name.as_bytes().get(1) == Some(&b':')
}

#[cfg(test)]
mod tests {
    use super::Paths;

    #[test]
    fn references_are_relative_and_escaped() {
        let paths = Paths { common: "/firm/library/".to_owned() };
        assert_eq!(paths.uri("/firm/library/walls/a b.detail"), "walls/a%20b.detail");
        assert_eq!(paths.uri("dach/traufe-\u{fc}.detail"), "dach/traufe-%C3%BC.detail");
    }
}
