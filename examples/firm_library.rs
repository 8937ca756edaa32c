//! Writes a made-up firm library: `cargo run --release --example firm_library -- DIR FILES [SEED]`.

#[path = "../benches/corpus/mod.rs"]
mod corpus;

use std::path::Path;
use std::process::ExitCode;

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let (Some(dir), Some(Ok(files))) = (words.first(), words.get(1).map(|n| n.parse::<u64>())) else {
        eprintln!("usage: firm_library DIR FILES [SEED]");
        return ExitCode::from(2);
    };
    let seed = words.get(2).and_then(|s| s.parse().ok()).unwrap_or(1);
    match write(Path::new(dir), files, seed) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("{error}");
            ExitCode::from(2)
        }
    }
}

fn write(dir: &Path, files: u64, seed: u64) -> std::io::Result<()> {
    std::fs::create_dir_all(dir)?;
    std::fs::write(dir.join("headlap.toml"), "")?;
    std::fs::write(dir.join("shared.detail"), corpus::SHARED)?;
    for index in 0..files {
        let path = dir.join(corpus::path(index));
        std::fs::create_dir_all(path.parent().expect("every path has a folder"))?;
        std::fs::write(path, corpus::file(seed, index))?;
    }
    Ok(())
}
