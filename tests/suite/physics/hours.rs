//! Monthly means out of tables of hours, and what is said about tables that cannot be used.

use headlap::physics::hourly::{MonthlyMeans, TableError, Trouble, monthly_means};
use headlap::physics::saturation_pressure_over_water;

use super::near;

const DAYS: [usize; 12] = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/// Month 1 to 12, day and hour 0 to 23 of every hour of a common year.
fn hours() -> impl Iterator<Item = (usize, usize, usize)> {
    (1..=12).flat_map(|m| (1..=DAYS[m - 1]).flat_map(move |d| (0..24).map(move |h| (m, d, h))))
}

fn table(header: &str, row: impl Fn(usize, usize, usize) -> String) -> String {
    let rows: Vec<String> = hours().map(|(m, d, h)| row(m, d, h)).collect();
    format!("{header}\n{}\n", rows.join("\n"))
}

/// 10 C in January, 11 C in February ...; 50 % throughout.
fn steady(header: &str, percent: &str) -> String {
    table(header, |m, d, h| format!("2005-{m:02}-{d:02} {h:02}:00,{}.0,{percent}", 9 + m))
}

fn is_steady(means: MonthlyMeans) {
    assert_eq!(means.hours, 8760);
    for (i, month) in means.months.iter().enumerate() {
        near("temperature", month.temperature, 10.0 + i as f64, 1e-9);
        near("humidity", month.humidity, 0.5, 1e-9);
    }
}

fn errors(table: &str) -> Vec<TableError> {
    monthly_means(table).unwrap_err()
}

fn said(table: &str) -> String {
    errors(table).iter().map(|e| e.to_string()).collect::<Vec<_>>().join("\n")
}

#[test]
fn a_plain_table_gives_its_means() {
    is_steady(monthly_means(&steady("time,temperature,relative humidity", "50")).unwrap());
    is_steady(monthly_means(&steady("Time;x,temp_air,RH (%)", "50").replacen("Time;x", "time", 1)).unwrap());
    is_steady(monthly_means(&steady("\u{feff}timestamp,T2m,rh", "0.5")).unwrap());
}

#[test]
fn headers_units_and_dates_come_in_many_ways() {
    // Lines above the header, hours 1 to 24, separate date and time, fahrenheit, a quoted comma.
    let us =
        table("723170,\"GREENSBORO\",NC,-5.0\nDate (MM/DD/YYYY),Time (HH:MM),Note,Dry-bulb (F),RHum (%)", |m, d, h| {
            format!("{m:02}/{d:02}/1988,{:02}:00,\"a, b\",{},50", h + 1, (9 + m) as f64 * 1.8 + 32.0)
        });
    is_steady(monthly_means(&us).unwrap());
    // The day first, semicolons, decimal commas, kelvin.
    let european = table("Datum;date;hour;Temperature [K];Relative humidity [%]", |m, d, h| {
        format!("x;{d}.{m}.2011;{h};{},15;50,0", 9 + m + 273)
    });
    is_steady(monthly_means(&european).unwrap());
    let day_first = table("date,time,temperature,rh", |m, d, h| format!("{d}/{m}/2011,{h}:00,{},50", 9 + m));
    is_steady(monthly_means(&day_first).unwrap());
    // A packed time, a legend with commas below, typical months of different years, tabs.
    let packed = table("Elevation (m): 250.0\nmonth,year\n1,2018\ntime(UTC),T2m,RH,SP", |m, d, h| {
        format!("{}{m:02}{d:02}:{h:02}00,{},50.0,99870", 2000 + m, 9 + m)
    });
    is_steady(monthly_means(&format!("{packed}\nWD: direction (0 = N, 90 = E)\nT2m: temperature\n")).unwrap());
    is_steady(
        monthly_means(&table("month\tday\thour\ttemp\trh", |m, d, h| format!("{m}\t{d}\t{h}\t{}\t50", 9 + m))).unwrap(),
    );
}

/// By hand: 12 hours of 20 C at 50 % and 12 hours of 10 C at 100 %: mean 15 C, mean pressure (1168.5 + 1227.3)/2 =
/// 1197.9 Pa, over psat(15) = 1704.4 Pa: 70.3 %. The plain mean of the humidities would be 75 %.
#[test]
fn humidity_keeps_the_mean_vapor_pressure() {
    let text = table("time,temperature,rh", |m, d, h| {
        format!("2005-{m}-{d} {h},{}", if h < 12 { "20,50" } else { "10,100" }).replacen("2005-", "2005-", 1)
    });
    let means = monthly_means(&text).unwrap();
    near("temperature", means.months[3].temperature, 15.0, 1e-9);
    near("humidity", means.months[3].humidity, 0.703, 0.0005);
}

/// Stations report humidity over liquid water: 80 % at -10 C are 0.8 * 286.44 Pa (CoolProp 8.0.0, water
/// routine), and over ice saturation is 259.90 Pa (psychrolib 2.5.0): 88.2 %
/// over ice. The formulas of the standard are 0.3 % low there.
#[test]
fn humidity_below_freezing_is_over_water_in_the_table_and_over_ice_in_the_mean() {
    let means = monthly_means(&table("time,temperature,rh", |m, d, h| format!("2005-{m}-{d} {h},-10,80"))).unwrap();
    near("over water", saturation_pressure_over_water(-10.0), 286.44, 0.0035 * 286.44);
    near("humidity", means.months[0].humidity, 0.882, 0.002);
}

/// 100 % over water at -10 C are 110 % over ice: as much as there can be.
#[test]
fn humidity_of_a_month_ends_at_saturation() {
    let means = monthly_means(&table("time,temperature,rh", |m, d, h| format!("2005-{m}-{d} {h},-10,100"))).unwrap();
    assert_eq!(means.months[0].humidity, 1.0);
}

#[test]
fn perfectly_dry_air_is_no_fraction() {
    let text = steady("time,temperature,rh", "50").replacen("05:00,10.0,50", "05:00,10.0,0", 1);
    assert!(monthly_means(&text).unwrap().months[0].humidity < 0.5);
}

#[test]
fn a_leap_year_and_several_years_are_whole_years() {
    let leap = steady("time,temperature,rh", "50");
    let day: String = (0..24).map(|h| format!("2005-02-29 {h:02}:00,11.0,50\n")).collect();
    let at = leap.find("2005-03-01").unwrap();
    let leap = format!("{}{day}{}", &leap[..at], &leap[at..]);
    assert_eq!(monthly_means(&leap).unwrap().hours, 8784);
    let rows = leap.split_once('\n').unwrap().1;
    assert_eq!(monthly_means(&format!("{leap}{rows}")).unwrap().hours, 2 * 8784);
    // A year from July to June.
    let lines: Vec<&str> = rows.lines().collect();
    let july = lines.iter().position(|l| l.starts_with("2005-07")).unwrap();
    let turned = [&["time,temperature,rh"], &lines[july..], &lines[..july]].concat().join("\n");
    assert_eq!(monthly_means(&turned).unwrap().hours, 8784);
}

#[test]
fn missing_columns_are_named_with_those_that_are_there() {
    assert_eq!(said(""), "the table is empty");
    assert_eq!(said(" \n\n"), "the table is empty");
    assert!(said("a,b,c\n1,2,3\n").starts_with("no line names the columns"));
    assert_eq!(
        said("time,temperature,wind\n2005-01-01 00:00,1,2\n"),
        "line 1: there is no column for relative humidity; the columns are `time`, `temperature`, `wind`"
    );
    let two = said("# weather\nstation,RH,rhum\n");
    assert!(two.contains("line 2: there is no column for time"), "{two}");
    assert!(two.contains("line 2: there is no column for temperature"), "{two}");
    assert!(two.contains("line 2: two columns could be relative humidity: `RH`, `rhum`"), "{two}");
}

/// Each row is line 2 + its hour of the year.
#[test]
fn bad_rows_are_reported_with_their_lines_and_the_rest_is_read() {
    let good = steady("time,temperature,rh", "50");
    let with = |from: &str, to: &str| {
        assert!(good.contains(from));
        said(&good.replacen(from, to, 1))
    };
    assert_eq!(
        with("2005-01-01 05:00,10.0,50", "2005-01-01 05:00,cold,50"),
        "line 7: `cold` in column `temperature` cannot be read"
    );
    assert_eq!(with("2005-01-01 05:00,10.0,50", "2005-01-01 05:00,,50"), "line 7: `temperature` is empty");
    assert_eq!(
        with("2005-01-01 05:00,10.0,50", "2005-01-01 05:00,nan,50"),
        "line 7: `nan` in column `temperature` cannot be read"
    );
    assert_eq!(with("2005-01-01 05:00,10.0,50", "2005-01-01 05:00,10.0"), "line 7: the row ends before column `rh`");
    assert_eq!(with("2005-01-01 05:00,10.0,50", "soon,10.0,50"), "line 7: `soon` in column `time` cannot be read");
    assert_eq!(
        with("2005-01-01 05:00", "2005-01-01 25:00"),
        "line 7: `2005-01-01 25:00` is not an hour of the calendar"
    );
    assert_eq!(
        with("2005-01-01 05:00", "2005-02-30 05:00"),
        "line 7: `2005-02-30 05:00` is not an hour of the calendar"
    );
    assert_eq!(with("05:00,10.0,50", "05:00,10.0,101"), "line 7: a relative humidity of 101 is outside 0 to 100 %");
    assert_eq!(with("05:00,10.0,50", "05:00,10.0,-1"), "line 7: a relative humidity of -1 is outside 0 to 100 %");
    assert_eq!(
        with("05:00,10.0,50", "05:00,10.0,0.5"),
        "line 7: 0.5 looks like a fraction, while other rows have percentages; use one of the two"
    );
    assert!(
        with("05:00,10.0,50", "05:00,283.0,50")
            .contains("line 7: 283.0 C is not an air temperature; if these are kelvin")
    );
    assert!(with("05:00,10.0,50", "05:00,-9900,50").contains("does it mark a missing value"));
    let both = good.replacen("05:00,10.0,50", "05:00,x,50", 1).replacen("09:00,10.0,50", "09:00,10.0,y", 1);
    assert_eq!(errors(&both).iter().map(|e| e.line).collect::<Vec<_>>(), [Some(7), Some(11)]);
}

#[test]
fn gaps_and_short_years_are_reported() {
    let good = steady("time,temperature,rh", "50");
    let without = |lines: std::ops::Range<usize>| {
        good.lines()
            .enumerate()
            .filter(|(i, _)| !lines.contains(&(i + 1)))
            .map(|(_, l)| l)
            .collect::<Vec<_>>()
            .join("\n")
    };
    let short = "8759 rows are not a whole number of years; a year has 8760 or 8784 hours";
    assert_eq!(said(&without(7..8)), format!("line 7: an hour is missing before this row\n{short}"));
    assert!(said(&without(7..27)).starts_with("line 7: 20 hours are missing before this row\n8740 rows"));
    // January and February have 1416 hours: 1 March begins on line 1418.
    assert!(said(&without(1410..1420)).starts_with("line 1410: 10 hours are missing before this row"));
    assert!(said(&without(2000..9000)).starts_with("1998 rows are not a whole number"));
    let doubled =
        good.replacen("2005-01-01 05:00,10.0,50\n", "2005-01-01 05:00,10.0,50\n2005-01-01 05:00,10.0,50\n", 1);
    assert!(said(&doubled).starts_with("line 8: this hour is not later than the hour in the row before"));
    let back = good.replacen("2005-06-15 05:00", "2005-06-14 05:00", 1);
    assert!(said(&back).contains("this hour is not later than the hour in the row before"));
    // A year and a day.
    let rows = good.split_once('\n').unwrap().1;
    let longer = format!("{good}{}", rows.lines().take(24).collect::<Vec<_>>().join("\n"));
    assert!(said(&longer).starts_with("8784 rows are not a whole number"));
}

#[test]
fn many_errors_are_counted_and_not_all_listed() {
    let bad = errors(&steady("time,temperature,rh", "often"));
    assert_eq!(bad.len(), 21);
    assert_eq!(bad[20].trouble, Trouble::Many { more: 8740 });
}

proptest::proptest! {
    #![proptest_config(proptest::test_runner::Config { failure_persistence: None, ..proptest::test_runner::Config::with_cases(256) })]

    /// Whatever a table holds, it is refused with errors, and each has words.
    #[test]
    fn no_text_is_too_odd(
        header in "(time|date|date,time|month,day,hour|\\PC{0,9})[,;\t](T2m|temp \\(K\\)|\\PC{0,9})[,;\t](RH|\\PC{0,9})",
        rows in proptest::collection::vec("[-0-9/.:T \"é]{0,20}[,;\t][-0-9.e]{0,9}[,;\t][-0-9.,\"]{0,9}|\\PC{0,30}", 0..30),
    ) {
        let errors = errors(&format!("{header}\n{}", rows.join("\n")));
        proptest::prop_assert!(!errors.is_empty() && errors.iter().all(|e| !e.to_string().is_empty()));
    }
}
