use super::{Burns, Stores};
use crate::basis::Basis;
use crate::fault::Fault;
use crate::job_file::parse_job;
use crate::lumber::Lumber;
use crate::mill_file::{Outfit, parse_outfit};
use pithward_measure::{Fluid, Length, Weight};
use std::path::Path;

const GENERIC: &str = include_str!("../../../../data/mills/generic.toml");

fn outfit(stores: &str) -> Result<Outfit, Vec<Fault>> {
    // The last table of the file, so that its fields stay its own.
    let text = format!("{GENERIC}\n[stores]\n{stores}\n");
    parse_outfit(text.as_bytes(), "mill.toml", "--mill")
}

/// Faults of `[stores]`, each in the words of its message.
#[track_caller]
fn check(stores: &str, expected: &[&str]) {
    let faults = outfit(stores).unwrap_err();
    let said: Vec<String> = faults.iter().map(ToString::to_string).collect();
    assert_eq!(said, expected, "{stores}");
    assert!(faults.iter().all(|fault| !fault.help.is_empty()));
}

#[test]
fn a_mill_without_stores_has_those_of_common_practice() {
    let plain = parse_outfit(GENERIC.as_bytes(), "mill.toml", "--mill").unwrap().stores;
    assert_eq!(plain, Stores::default());
    assert_eq!(plain.basis("lifts"), Some(Basis::Unknown));
    assert_eq!(plain.basis("kerf"), None);
    for field in Stores::fields() {
        assert!(plain.basis(field).is_some_and(|basis| basis != Basis::Stated), "{field}");
    }
    // Five gallons run six to seven hours, so that a day of eight needs more than a tank.
    let hours = plain.tank.gallons_f64() / plain.gallons_per_hour();
    assert!((6.0..=7.0).contains(&hours) && 8.0 * plain.gallons_per_hour() > 5.0, "{hours}");
}

#[test]
fn every_figure_is_the_mills_own_to_state() {
    let stores = outfit(
        "lifts = \"1.2 t\"\nengine = \"27 hp\"\nburns = \"diesel\"\nload = 50\nfuel = \"3 l/h\"\n\
         tank = \"20 l\"\ncan = \"2.5 gal\"\nwater = \"0 gal/h\"\nlubricant = \"2 %\"\n\
         sharpenings = 4\nspare_blades = 0\nchute = \"85%\"",
    );
    let stores = stores.unwrap().stores;
    for field in Stores::fields() {
        assert_eq!(stores.basis(field), Some(Basis::Stated), "{field}");
    }
    assert_eq!(stores.lifts, Some(Weight::kg(1200)));
    assert_eq!((stores.burns, stores.load, stores.chute), (Burns::Diesel, 500, 850));
    assert_eq!((stores.tank, stores.water_per_hour), (Fluid::parse("20 l").unwrap(), Fluid::ZERO));
    assert_eq!((stores.sharpenings, stores.spare_blades, stores.lubricant), (4, 0, 20));
    // What is stated by the hour comes before what follows from the engine.
    assert!((stores.gallons_per_hour() - 3.0 / 3.785_411_784).abs() < 1e-9);
}

#[test]
fn the_generic_mill_tells_the_figures_that_are_taken() {
    let (_, rest) = GENERIC.split_once("# [stores]\n").unwrap();
    let told = rest.split("\n\n").next().unwrap().lines().map(|line| &line[2..]);
    let examples = ["lifts", "engine"];
    let taken = told.clone().filter(|line| !examples.iter().any(|field| line.starts_with(field)));
    let stores = outfit(&taken.collect::<Vec<_>>().join("\n")).unwrap().stores;
    let plain = Stores::default();
    let fuel = (stores.gallons_per_hour() - plain.gallons_per_hour()).abs();
    assert!(fuel < 0.005, "{fuel}");
    assert_eq!(Stores { fuel_per_hour: None, stated: 0, ..stores }, plain);
    let all = outfit(&told.collect::<Vec<_>>().join("\n")).unwrap().stores;
    assert!(Stores::fields().all(|field| all.basis(field) == Some(Basis::Stated)));
}

/// Miyata, NC-32, from memory: 27 hp of petrol at 40 % of its power burn 0.83 gal/h; 25 to 35 hp of diesel 0.5 to 0.8.
#[test]
fn fuel_follows_from_the_engine() {
    let burned = |text: &str| {
        let stores = outfit(text).unwrap().stores;
        assert_eq!(stores.basis("fuel"), Some(Basis::Follows));
        stores.gallons_per_hour()
    };
    assert!((burned("engine = \"27 hp\"") - 0.828).abs() < 0.001);
    assert!((burned("engine = \"20.134 kW\"") - 0.828).abs() < 0.001);
    let diesel = |hp| burned(&format!("engine = \"{hp} hp\"\nburns = \"diesel\""));
    assert!((0.5..=0.8).contains(&diesel(25)) && (0.5..=0.8).contains(&diesel(35)));
    let full = burned("engine = \"27 hp\"\nload = 100");
    assert!((full / burned("engine = \"27 hp\"\nload = 50") - 2.0).abs() < 1e-9);
}

#[test]
fn every_fault_is_told_at_once() {
    check(
        "lifts = \"2 tons\"\nengine = \"27\"\nburns = \"desel\"\nload = 0\nfuel = \"0 gal/h\"\n\
         tank = \"5\"\ncan = \"0 gal\"\nwater = \"2 gal\"\nlubricant = \"x\"\nsharpenings = 3.5\n\
         spare_blades = 101\nchute = 101\nchut = 85",
        &[
            "lifts: \"2 tons\" may be of 2000 lb, 2240 lb or 1000 kg; write lb, kg or t (1000 kg)",
            "engine: \"27\" is no power",
            "burns: \"desel\" is no fuel; perhaps diesel?",
            "load must be between 5 % and 100 %, got \"0\"",
            "fuel must be more than nothing and at most 100 gal, got \"0 gal/h\"",
            "tank: \"5\" has no unit; write gal or l behind it",
            "can must be more than nothing and at most 500 gal, got \"0 gal\"",
            "water: \"2 gal\" is no volume by the hour",
            "lubricant: \"x\" is no percentage",
            "sharpenings must be a whole number between 0 and 50, got \"3.5\"",
            "spare_blades must be a whole number between 0 and 100, got \"101\"",
            "chute must be between 0 % and 100 %, got \"101\"",
            "\"chut\" is no field of [stores]; perhaps chute?",
        ],
    );
    check("lifts = \"5 lb\"", &["lifts must be between 50 lb and 200000 lb, got \"5 lb\""]);
    check("engine = \"0.1 kW\"", &["engine must be between 0.5 kW and 500 kW, got \"0.1 kW\""]);
    check("lifts = 2000", &["lifts must be a text in quotes, got \"2000\""]);
    for text in ["27 hp hp", "hp", "1e3 hp", "-27 hp", "27 horses", "inf hp", "nan kW", "2..7 hp"] {
        check(&format!("engine = \"{text}\""), &[&format!("engine: \"{text}\" is no power")]);
    }
}

const JOB: &str = "logs = [{ id = \"1\", species = \"red oak\", small_end = \"14 in\", butt = \"16 in\", \
                   length = \"8 ft\" }]\nwants = [{ size = \"4/4\" }]\n";

fn lumber(text: &str) -> Result<Lumber, Vec<Fault>> {
    let text = format!("{JOB}[lumber]\n{text}\n");
    parse_job(text.as_bytes(), "job.toml", "JOB", Path::new("")).map(|job| job.lumber)
}

#[test]
fn a_job_says_how_its_lumber_is_stacked_and_hauled() {
    let plain = parse_job(JOB.as_bytes(), "job.toml", "JOB", Path::new("")).unwrap().lumber;
    assert_eq!(plain, Lumber::default());
    assert_eq!(plain.payload, None);
    // Boards of an inch sag, planks of two do not.
    let (thin, thick) = (Length::inches(1), Length::inches(2));
    assert_eq!(
        (plain.spacing(thin), plain.spacing(thick)),
        (Length::inches(16), Length::inches(24))
    );
    let own = lumber(
        "payload = \"3000 lb\"\nstack_width = \"3 ft\"\nstack_height = \"1.2 m\"\nsticker = \"1 in\"\n\
         sticker_spacing = \"20 in\"",
    );
    let own = own.unwrap();
    assert_eq!(own.payload, Some(Weight::lb(3000)));
    assert_eq!((own.spacing(thin), own.spacing(thick)), (Length::inches(20), Length::inches(20)));
    assert_eq!((own.stack_height, own.stated), (Length::mm(1200), [true; 5]));
    let faults = lumber(
        "payload = \"3 lb\"\nstack_width = \"4\"\nstack_height = \"1 in\"\nsticker = \"5 in\"\n\
         sticker_spacing = \"0 in\"\nheight = \"4 ft\"",
    );
    let said: Vec<String> = faults.unwrap_err().iter().map(ToString::to_string).collect();
    assert_eq!(
        said,
        [
            "payload must be between 50 lb and 200000 lb, got \"3 lb\"",
            "stack_width: \"4\" has no unit",
            "stack_height must be between 6 in and 15 ft, got \"1 in\"",
            "sticker must be between 1/4 in and 4 in, got \"5 in\"",
            "sticker_spacing must be between 6 in and 96 in, got \"0 in\"",
            "\"height\" is no field of [lumber]",
        ]
    );
}
