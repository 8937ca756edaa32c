//! The HTML report: complete, escaped, closed against everything from outside, and usable in a real browser.

use std::path::{Path, PathBuf};
use std::process::Command;

use headlap::output::html::{Input, html};
use headlap::review::Run;

use crate::drawing::{demo, run_folder};

fn page(run: &Run) -> String {
    let mut out = Vec::new();
    let input = Input {
        report: &run.report,
        checked: &run.checked,
        needs: &run.needs,
        pack: crate::review::pack(),
        today: crate::review::TODAY,
    };
    html(&input, &mut out).expect("writing to memory works");
    String::from_utf8(out).expect("a page is text")
}

/// Names, titles, waivers and notes that would like to be more than text.
fn hostile() -> Run {
    let text = "include \"stock.detail\"
assembly W1 wall \"<script>alert(1)</script>\" {
  outside
  layer wrap-open       controls water, air
  layer plywood 12 mm
  layer mineral-wool 140 mm controls thermal
  layer poly-6mil       controls vapor
  inside
}
detail C1 course \"\\\" onload='alert(2)' \u{202E}gnp.exe \u{7}</title></svg><script>alert(1)</script>\" joins W1 {
  sheet \"<img src=x onerror=alert(3)>\"
  note \"--> ]]> <!-- <svg onload=alert(4)>\"
  piece deck plywood   of W1
  piece high wrap-open of W1 up from 0 mm
  piece low  wrap-open of W1 up to 100 mm
  waive reverse-lap because \"<script>alert(1)</script>\" by \"'\\\"><b>\"
}
set \"</title><script>alert(1)</script>\" { needs corner of W1 }
";
    let folder = std::env::temp_dir().join(format!("headlap-report-{}", std::process::id()));
    std::fs::create_dir_all(&folder).expect("a folder for the test");
    std::fs::write(folder.join("a.detail"), text).expect("a file for the test");
    let run = run_folder(folder.to_str().expect("a plain path"));
    std::fs::remove_dir_all(&folder).expect("the folder goes");
    run
}

#[test]
fn every_finding_is_there_once_with_all_that_it_says() {
    // Between numbers and units no line breaks.
    // Names have a face of their own instead of backticks.
    let page = page(demo()).replace('\u{a0}', " ").replace("<code>", "`").replace("</code>", "`");
    assert_eq!(page.matches("<article id=\"f").count(), demo().report.findings.len());
    assert!(demo().report.findings.len() > 3);
    for finding in &demo().report.findings {
        for part in finding.fix.iter().chain(finding.values.iter().map(|(_, value)| value)) {
            assert!(page.contains(&*maud_escaped(part)), "{part}");
        }
        finding.trail.iter().for_each(|step| assert!(page.contains(&*maud_escaped(&step.message)), "{}", step.message));
    }
    for detail in demo().checked.iter().flat_map(|c| &c.facts.details) {
        assert!(
            page.contains(&format!("Section of {}", detail.detail.name))
                || page.contains(&format!("Plan of {}", detail.detail.name))
        );
        let seen = |name: &str| page.contains(&format!("{name} of {}", detail.detail.name));
        assert!(["Elevation", "unfolded", "laid flat", "Plan"].iter().any(|name| seen(name)), "{}", detail.detail.name);
    }
    for words in ["Drawing set", "2028-12-31", "Reviewer&#39;s sheet", "Caution.", "Installation sequence", "fRsi"] {
        assert!(page.contains(words) || page.contains(&words.replace("&#39;", "'")), "{words}");
    }
}

fn maud_escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}

#[test]
fn text_of_files_is_text() {
    let page = page(&hostile());
    assert_eq!(page.matches("<script").count(), 1, "only the page's own");
    assert!(page.contains("&lt;script&gt;alert(1)&lt;/script&gt;"));
    assert!(page.contains("&lt;U+202E&gt;gnp.exe &lt;U+0007&gt;"));
    assert!(!page.contains("<img") && !page.contains("<svg onload") && !page.contains("<!--"));
    assert!(page.chars().all(|c| !c.is_control() || c == '\n'), "no control character but line breaks");
    assert!(!page.contains('\u{202E}'));
}

#[test]
fn nothing_comes_from_outside() {
    let page = page(demo());
    for address in ["http://", "https://", "src=", "url(", "@import"] {
        // The name of the SVG language is an address that no browser asks for.
        let found = page.replace("http://www.w3.org/2000/svg", "").matches(address).count();
        assert_eq!(found, 0, "{address}");
    }
    assert!(!page.contains("style=\"") && !page.contains("onclick"));
}

#[test]
fn the_policy_knows_the_style_and_the_script() {
    let page = page(demo());
    for tag in ["style", "script"] {
        let (_, rest) = page.split_once(&format!("<{tag}>")).expect("the page has one");
        let (body, _) = rest.split_once(&format!("</{tag}>")).expect("it ends");
        let known = format!("{tag}-src 'sha256-{}'", base64(&sha256(body.as_bytes())));
        let policy = page.split_once("Content-Security-Policy\" content=\"").expect("a policy").1;
        let policy = policy.split_once('"').expect("it ends").0.replace("&#39;", "'");
        assert!(policy.contains(&known), "write {known} into the policy of src/output/html/page.rs; it has {policy}");
    }
}

#[test]
fn the_sheet_proposes_and_leaves_the_decision() {
    let page = page(demo());
    let proposed = page.split_once("<strong id=\"proposed\">").expect("a proposal").1;
    assert!(proposed.starts_with("revise and resubmit<"), "the demo library has errors");
    for action in ["No exceptions taken<", "Make corrections noted<", "Revise and resubmit (proposed)<", "Rejected<"] {
        assert_eq!(page.matches(action).count(), 1, "{action}");
    }
    assert!(page.contains("Signature"));
}

fn section<'p>(page: &'p str, id: &str) -> &'p str {
    let from = page.find(&format!("<section id=\"{id}\"")).expect("the page has it");
    page[from..].split("</section>").next().expect("it ends")
}

/// What was waived is passed over in the list, and a row says so: no number is missing, on the page or in the text.
#[test]
fn no_number_is_missing_in_a_list_of_findings() {
    use headlap::output::{self, Look};
    let (report, page) = (&demo().report, page(demo()));
    let front = section(&page, "front");
    let places = (1..=report.findings.len()).map(|n| front.find(&format!("href=\"#f{n}\"")).expect("it is listed"));
    assert!(places.collect::<Vec<_>>().is_sorted());
    assert!(front.contains("Waived in C2: Head lap shorter than good practice"), "{front}");
    let mut out = Vec::new();
    output::text(report, Look::PLAIN, &mut out).expect("a vector takes all");
    let text = String::from_utf8(out).expect("text");
    let numbers =
        text.lines().filter_map(|line| line.strip_prefix("-- ").or(line.strip_prefix("── "))?.split(' ').next());
    assert!(numbers.map(str::to_owned).eq((1..=report.findings.len()).map(|n| n.to_string())), "{text}");
    assert!(text.contains(" 5 ") && text.contains(" waived in C2: Head lap shorter than good practice\n"), "{text}");
}

/// What a wall dries at is one number in the sentence and on the drawing, and never nothing in the table.
#[test]
fn a_small_permeance_is_not_rounded_away() {
    let page = page(demo()).replace('\u{a0}', " ");
    assert!(page.contains("dries outward at 0.00233 perm") && page.contains("dries out: 0.00233 perm"));
    assert!(page.contains("<td>0.0023</td>") && !page.contains("<td>0.00</td>"));
}

/// An architect counts details and assemblies, and nobody counts items.
#[test]
fn the_verdict_counts_details_and_assemblies_apart() {
    let page = page(demo());
    let verdict = section(&page, "front").split_once("<h2 id=\"front-title\">").expect("a verdict").1;
    let verdict = verdict.split('<').next().expect("it ends").replace('\u{a0}', " ");
    assert_eq!(verdict, "5 errors in 4 of 24 details and 1 of 11 assemblies; 1 waived");
}

/// Small pictures of one kind look alike: each says what it is, and on which sheet.
#[test]
fn a_thumbnail_has_name_title_and_sheet() {
    let page = page(demo()).replace('\u{a0}', " ");
    let contact =
        page.split_once("<ul class=\"contact\">").expect("a contact sheet").1.split("</ul>").next().expect("it ends");
    let cards: Vec<&str> = contact.split("<li").skip(1).collect();
    let details: Vec<_> = demo().checked.iter().flat_map(|c| &c.facts.details).map(|facts| &facts.detail).collect();
    assert_eq!(cards.len(), details.len());
    for (card, detail) in cards.into_iter().zip(details) {
        for words in [Some(&*detail.name), detail.title.as_deref(), detail.sheet.as_deref()].into_iter().flatten() {
            assert!(card.contains(&*maud_escaped(words)), "{words}: {card}");
        }
    }
    assert!(contact.contains("C2 ✓ 1 waived"), "what was waived was found");
}

/// A strip is a line in a small picture: of long courses it shows the stretch where they lap.
#[test]
fn a_thumbnail_is_no_line() {
    let page = page(demo());
    let boxes =
        page.split("<svg class=\"thumb\" viewBox=\"").skip(1).map(|rest| rest.split('"').next().expect("it ends"));
    let slender = |area: &str| {
        let numbers: Vec<f64> = area.split(' ').map(|number| number.parse().expect("a number")).collect();
        let [.., wide, high] = numbers[..] else { panic!("{area}") };
        (wide / high).max(high / wide)
    };
    let worst = boxes.map(slender).fold(0.0, f64::max);
    assert!(worst < 12.0, "{worst}");
}

/// A page that people wait for is not read: thumbnails share the shapes of their drawings, and dots are one path.
#[test]
fn a_report_of_two_hundred_details_stays_small() {
    let folder = crate::command::scratch("report/large");
    for entry in std::fs::read_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/examples/millrace")).expect("the library") {
        let path = entry.expect("a file").path();
        let name = path.file_stem().expect("a name").to_string_lossy().into_owned();
        let text = std::fs::read_to_string(&path).expect("text");
        let copies = if ["assemblies", "existing"].contains(&&*name) { 1 } else { 10 };
        for n in (0..copies).filter(|_| name != "drawing-set") {
            let renamed = |line: &str| match line.strip_prefix("detail ").and_then(|rest| rest.split_once(' ')) {
                Some((detail, rest)) if copies > 1 => format!("detail {detail}.{n} {rest}"),
                _ => line.to_owned(),
            };
            let text: Vec<String> = text.lines().map(renamed).collect();
            let file = if copies > 1 { format!("{name}-{n}.detail") } else { format!("{name}.detail") };
            std::fs::write(folder.join(file), text.join("\n")).expect("written");
        }
    }
    let run = run_folder(folder.to_str().expect("a plain path"));
    let details: usize = run.checked.iter().map(|c| c.facts.details.len()).sum();
    let page = page(&run);
    assert!(details >= 200, "{details}");
    assert!(page.len() < 6_000_000, "{} bytes for {details} details", page.len());
}

/// A browser copies what is shown by its name, and a page of many drawings would open in twice the time.
#[test]
fn a_drawing_stands_where_it_is_first_shown() {
    let page = page(demo());
    let details = page.find("id=\"details\"").expect("the details");
    let own = &page[details..];
    assert!(own.contains("<g id=\"d0-section\">") && !own.contains("<defs>"));
    assert!(!own.contains("<use href=\"#d"), "no drawing of a detail is a copy");
    let mut notes = own.split("<g class=\"label\">").skip(1).filter_map(|rest| rest.split("</g>").next());
    assert!(notes.all(|notes| notes.matches("<circle").count() < 2), "the circles of notes are one path");
}

/// The rest is for a real browser: filter, keyboard, print, console, accessibility. Without one the test says that it
/// was skipped, unless HEADLAP_BROWSER=required.
#[test]
fn the_report_works_in_a_browser() {
    let checks = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/browser");
    let required = std::env::var_os("HEADLAP_BROWSER").is_some_and(|value| value == "required");
    let Some(browser) = browser().filter(|_| checks.join("node_modules").is_dir()) else {
        assert!(!required, "a browser and `npm ci` in tests/browser are required");
        eprintln!(
            "skipped: the report was not opened in a browser (needs chromium, node, and npm ci in tests/browser)"
        );
        return;
    };
    let folder = std::env::temp_dir().join(format!("headlap-browser-{}", std::process::id()));
    std::fs::create_dir_all(&folder).expect("a folder for the test");
    let (report, bad) = (folder.join("report.html"), folder.join("hostile.html"));
    std::fs::write(&report, page(demo())).expect("a report");
    std::fs::write(&bad, page(&hostile())).expect("a report");
    let done = Command::new("node").arg(checks.join("check.mjs")).arg(browser).arg(&report).arg(&bad).output();
    std::fs::remove_dir_all(&folder).expect("the folder goes");
    let done = done.expect("node runs");
    let said = format!("{}{}", String::from_utf8_lossy(&done.stdout), String::from_utf8_lossy(&done.stderr));
    assert!(done.status.success(), "{said}");
}

pub fn browser() -> Option<PathBuf> {
    let named = std::env::var_os("CHROMIUM").map(PathBuf::from);
    let usual = ["chromium", "chromium-browser", "google-chrome"];
    let path = std::env::var_os("PATH").unwrap_or_default();
    let found = std::env::split_paths(&path).flat_map(|folder| usual.map(|name| folder.join(name)));
    named.into_iter().chain(found).find(|file| file.is_file())
}

/// FIPS 180-4, for a few kilobytes.
fn sha256(text: &[u8]) -> Vec<u8> {
    // The first 32 bits of the fractional parts of square and cube roots of primes.
    let primes: Vec<u32> = (2..312u32).filter(|n| (2..*n).all(|d| n % d != 0)).take(64).collect();
    let root = |n: u32, k: u32| {
        // The integer k-th root of n * 2^(32 k).
        let target = u128::from(n) << (32 * k);
        let (mut low, mut high) = (0u128, 1u128 << 40);
        while high - low > 1 {
            let middle = (low + high) / 2;
            if (0..k).try_fold(1u128, |power, _| power.checked_mul(middle)).is_some_and(|p| p <= target) {
                low = middle;
            } else {
                high = middle;
            }
        }
        low as u32
    };
    let constants: Vec<u32> = primes.iter().map(|p| root(*p, 3)).collect();
    let mut hash: Vec<u32> = primes[..8].iter().map(|p| root(*p, 2)).collect();
    let mut padded = text.to_vec();
    padded.push(0x80);
    while padded.len() % 64 != 56 {
        padded.push(0);
    }
    padded.extend((8 * text.len() as u64).to_be_bytes());
    for block in padded.chunks(64) {
        let mut w: Vec<u32> = block.chunks(4).map(|b| u32::from_be_bytes([b[0], b[1], b[2], b[3]])).collect();
        for t in 16..64 {
            let s0 = w[t - 15].rotate_right(7) ^ w[t - 15].rotate_right(18) ^ (w[t - 15] >> 3);
            let s1 = w[t - 2].rotate_right(17) ^ w[t - 2].rotate_right(19) ^ (w[t - 2] >> 10);
            w.push(w[t - 16].wrapping_add(s0).wrapping_add(w[t - 7]).wrapping_add(s1));
        }
        let mut v = hash.clone();
        for t in 0..64 {
            let s1 = v[4].rotate_right(6) ^ v[4].rotate_right(11) ^ v[4].rotate_right(25);
            let choice = (v[4] & v[5]) ^ (!v[4] & v[6]);
            let t1 = v[7].wrapping_add(s1).wrapping_add(choice).wrapping_add(constants[t]).wrapping_add(w[t]);
            let s0 = v[0].rotate_right(2) ^ v[0].rotate_right(13) ^ v[0].rotate_right(22);
            let majority = (v[0] & v[1]) ^ (v[0] & v[2]) ^ (v[1] & v[2]);
            v.rotate_right(1);
            v[4] = v[4].wrapping_add(t1);
            v[0] = t1.wrapping_add(s0).wrapping_add(majority);
        }
        hash.iter_mut().zip(v).for_each(|(h, v)| *h = h.wrapping_add(v));
    }
    hash.into_iter().flat_map(u32::to_be_bytes).collect()
}

fn base64(bytes: &[u8]) -> String {
    const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut text = String::new();
    for chunk in bytes.chunks(3) {
        let word = chunk.iter().fold(0u32, |word, byte| word << 8 | u32::from(*byte)) << (8 * (3 - chunk.len()));
        for place in 0..4 {
            let letter = if place <= chunk.len() { LETTERS[(word >> (18 - 6 * place) & 63) as usize] } else { b'=' };
            text.push(char::from(letter));
        }
    }
    text
}

#[test]
fn the_hash_is_sha256() {
    // FIPS 180-4 example "abc", as base64.
    assert_eq!(base64(&sha256(b"abc")), "ungWv48Bz+pBQUDeXa4iI7ADYaOWF3qctBD/YfIAFa0=");
}

/// A finding has one number in the text, in the narrated text and on the page, with waived ones between.
#[test]
fn a_finding_has_one_number_in_text_and_page() {
    use headlap::output::{self, Look};
    let (report, page) = (&demo().report, page(demo()));
    let waived = report.findings.iter().position(|f| !f.open()).expect("the demo library waives one");
    let last = report.findings.iter().rposition(|f| f.open()).expect("an open finding");
    assert!(waived < last, "a waived finding comes before an open one");
    let shown = |narrate: bool| {
        let mut out = Vec::new();
        output::text(report, Look { narrate, ..Look::PLAIN }, &mut out).expect("a vector takes all");
        String::from_utf8(out).expect("text")
    };
    let (finding, number) = (&report.findings[last], last + 1);
    let heading = format!("── {number} ── {}: {}", finding.level.word(), finding.title);
    assert!(shown(false).contains(&heading), "{heading}");
    assert!(shown(true).contains(&format!("Finding {number} of {}.", report.findings.len())));
    let article = page.split_once(&format!("<article id=\"f{number}\"")).expect("the card").1;
    let article = article.split("</article>").next().expect("it ends");
    assert!(article.contains(&*maud_escaped(&finding.title)), "{}", finding.title);
}

/// Facts in sentences have no columns, and no signs in place of words.
#[test]
fn narrated_facts_are_prose() {
    use headlap::output::{self, Look};
    let mut out = Vec::new();
    output::facts::text(&demo().checked, &[], Look { narrate: true, ..Look::PLAIN }, &mut out)
        .expect("a vector takes all");
    let text = String::from_utf8(out).expect("text");
    for sign in ["  ", " | ", " - ", "\n."] {
        assert!(!text.contains(sign), "{sign:?} in {}", text.lines().find(|line| line.contains(sign)).unwrap_or(""));
    }
    assert!(text.contains("Detail B1, base-of-wall") && text.contains("Layer 1 from outside"), "{text}");
}
