//! Sheets of logs as spreadsheets save them.

use super::{directory, told};
use crate::fault::Fault;
use crate::job_file::read_job;
use crate::pile_job::PileJob;
use pithward_measure::Length;

const WANTS: &str = "logs_file = \"logs.csv\"\n[[wants]]\nsize = \"2x4x8\"\n";

fn read(name: &str, sheet: &str) -> Result<PileJob, Vec<Fault>> {
    let place = directory(name, &[("job.toml", WANTS), ("logs.csv", sheet)]);
    let read = read_job(&place.join("job.toml"), "JOB");
    std::fs::remove_dir_all(place).unwrap();
    read
}

/// Ids, small ends, butts and lengths in 64ths of an inch.
#[track_caller]
fn check(name: &str, sheet: &str, expected: &[(&str, i64, i64, i64)]) {
    let job = read(name, sheet).unwrap_or_else(|faults| panic!("{:#?}", told(&faults)));
    let in64 = |length: Length| length.div_floor(Length::sixty_fourths(1));
    let found: Vec<_> = job
        .logs
        .iter()
        .map(|log| {
            let measures = [log.log.small_end(), log.log.butt(), log.log.length()].map(in64);
            (&*log.id, measures[0], measures[1], measures[2])
        })
        .collect();
    assert_eq!(found, expected);
}

#[track_caller]
fn check_faults(name: &str, sheet: &str, expected: &[&str]) {
    let own = format!("{}/", super::path(name).display());
    let found = told(&read(name, sheet).unwrap_err());
    let found: Vec<String> = found.iter().map(|fault| fault.replace(&own, "")).collect();
    assert_eq!(found, expected);
}

const TWO: [(&str, i64, i64, i64); 2] =
    [("1", 64 * 14 + 16, 64 * 16, 64 * 148), ("2", 64 * 13, 64 * 15 + 32, 64 * 120)];

#[test]
fn the_same_sheet_in_every_dress() {
    for (name, sheet) in [
        ("plain", "id,small end (in),butt (in),length (ft)\n1,14.25,16,12' 4\"\n2,13,15 1/2,10\n"),
        (
            "crlf",
            "id,small end (in),butt (in),length (ft)\r\n1,14 1/4,16,12 ft 4 in\r\n\r\n2,13,15.5,10",
        ),
        (
            "bom",
            "\u{feff}ID,Small End [in],BUTT (inches),Length (feet)\n1,14.25,16,12' 4\"\n2,13,15.5,10\n",
        ),
        (
            "semicolons",
            "No;top (in);large end (in);length (ft)\n1;14,25;16;148 in\n2;13;15,5;10,0\n",
        ),
        (
            "tabs",
            "Log No.\tsmall\tbig\tlong\n1\t14 1/4 in\t16 in\t148 in\n2\t13 in\t15.5 in\t10 ft\n",
        ),
        (
            "quotes",
            "\"id\",\"small_end (in)\",\"butt (in)\",\"length\"\n\"1\",\"14 1/4\",\"16\",\"12' 4\"\"\"\n\"2\",\"13\",\"15.5\",\"10 ft\"\n",
        ),
        (
            "trailing",
            "id,small end (in),butt (in),length (in),,\n1,14.25,16,148,,\n2,13,15.5,120\n,,,,,\n,\n",
        ),
        (
            "metric",
            "id,small end (mm),butt (cm),length (m)\n1,361.95,40.64,3.7592\n2,330.2,39.37,3.048\n",
        ),
        (
            "blank first",
            "\n\nid,small end (in),butt (in),length (ft)\n1,14.25,16,148 in\n2,13,15.5,10\n",
        ),
    ] {
        check(name, sheet, &TWO);
    }
}

#[test]
fn what_else_a_sheet_may_say() {
    let sheet = "id,species,small end (in),small end 2 (in),butt (in),butt 2 (in),length (ft),bark (in),over bark,count,notes,note 2\n\
        A,White Oak,14,15,16,,10,0.5,yes,,\"sound, mostly\",wire?\n\
        B,,14,,16,17,10,,No,2,,\n";
    let job = read("more", sheet).unwrap();
    let ids: Vec<&str> = job.logs.iter().map(|log| &*log.id).collect();
    assert_eq!(ids, ["A", "B-1", "B-2"]);
    let [a, b, _] = &job.logs[..] else { panic!() };
    assert_eq!(a.notes, "sound, mostly; wire?");
    assert_eq!(a.log.small_end(), Length::sixty_fourths(64 * 13 + 32));
    assert!(a.two_diameters && a.taped_over_bark && a.species.unwrap().name == "Oak, white");
    assert_eq!(b.log.butt(), Length::sixty_fourths(64 * 16 + 32));
    assert!(b.two_diameters && !b.taped_over_bark && b.species.is_none());
}

#[test]
fn a_sheet_says_how_each_log_was_measured() {
    let sheet = "id,small end (in),butt (in),length (ft),Measured by,count\n\
        A,14,16,10,taped,\nB,14,16,10,By Eye,2\nC,14,16,10,told by the customer,\nD,14,16,10,,\n";
    let doubt = read("measured", sheet).unwrap().doubt;
    let measured = ["A", "B-1", "B-2", "C", "D"].map(|log| doubt.measured(log));
    use crate::Measured::{Eye, Tape, Told};
    assert_eq!(measured, [Tape, Eye, Eye, Told, Tape]);
    check_faults(
        "measured wrong",
        "id,small end (in),butt (in),length (ft),measured\nA,14,16,10,tapped\nB,14,16,10,laser\n",
        &[
            "logs.csv:2:12 [tapped] measured: \"tapped\" is no way of measuring",
            "logs.csv:3:12 [laser] measured: \"laser\" is no way of measuring",
        ],
    );
}

#[test]
fn what_is_wrong_with_a_sheet_has_its_line_and_column() {
    check_faults(
        "wrong 0",
        "id,small end (in),butt (in),length (ft)\n",
        &[
            "logs.csv:1:1 [id,small end (in),butt (in),length (ft)] logs_file: the sheet has no log in it",
        ],
    );
    check_faults(
        "wrong 1",
        "small end (in),butt (in)\n14,16\n",
        &[
            "logs.csv:1:1 [small end (in),butt (in)] id has no column in the sheet",
            "logs.csv:1:1 [small end (in),butt (in)] length has no column in the sheet",
        ],
    );
    check_faults(
        "wrong 2",
        "id,weight,small end (in),butt (in),length (ft),smal end 2\n1,900,14,16,12\n",
        &[
            "logs.csv:1:4 [weight] \"weight\" is no column of a sheet of logs",
            "logs.csv:1:48 [smal end 2] \"smal end 2\" is no column of a sheet of logs; perhaps small end 2?",
        ],
    );
    check_faults(
        "wrong 3",
        "id,small end (in),top (in),butt (in),length (ft)\n1,14,15,16,12\n",
        &["logs.csv:1:19 [top (in)] small end: \"top (in)\" is said twice"],
    );
    check_faults(
        "wrong 4",
        "id,small end (inn),butt (in),length (ft)\n1,14,16,12\n",
        &["logs.csv:1:4 [small end (inn)] small end: \"inn\" is no unit of length"],
    );
    check_faults(
        "wrong 5",
        "id,small end,butt (in),length\n1,14,16,12\n2,14,16,12\n",
        &[
            "logs.csv:1:4 [small end] small end: the numbers below have no unit, the first of them is \"14\" on line 2",
            "logs.csv:1:24 [length] length: the numbers below have no unit, the first of them is \"12\" on line 2",
        ],
    );
    check_faults(
        "wrong 6",
        "id,small end,butt (in),length (ft)\n1,14 in,16,12\n2,14,16,12\n",
        &["logs.csv:3:3 [14] small end: \"14\" has no unit"],
    );
    check_faults(
        "wrong 7",
        "id,small end (in),butt (in),length (ft)\n1,14,16,12,stray\n2,13\n",
        &[
            "logs.csv:2:12 [stray] cell: \"stray\" stands beyond the last column, which is column 4",
            "logs.csv:3:1 [2,13] butt is missing",
            "logs.csv:3:1 [2,13] length is missing",
        ],
    );
    check_faults(
        "wrong 8",
        "id,small end (in),butt (in),length (ft)\n1,14,16,12\n1,fourteen,12 fot,120\n",
        &[
            "logs.csv:3:1 [1] id: \"1\" is called the same as the log on line 2 of logs.csv",
            "logs.csv:3:3 [fourteen] small end: \"fourteen\" is not a length: \"fourteen\" is no number; write one such as 24 1/2 in, 12 ft 4 in or 620 mm",
            "logs.csv:3:15 [fot] butt: \"12 fot\" is not a length: \"fot\" is no unit; write in, ft, mm, cm or m",
            "logs.csv:3:19 [120] length must be between 12 in and 100 ft, got \"120 ft\"",
        ],
    );
    check_faults(
        "wrong 9",
        "id;small end (in);butt (in);length (ft)\n1;14,5x;16;12\n2;18,5;16;12\n",
        &[
            "logs.csv:2:7 [x] small end: \"14.5x\" is not a length: \"x\" is no unit; write in, ft, mm, cm or m",
            "logs.csv:3:8 [16] butt: the butt, \"16 in\", is smaller than the small end, \"18.5 in\"",
        ],
    );
    check_faults(
        "wrong 10",
        "id,small end (in),butt (in),length (ft),notes\n1,14,16,12,\"an open quote\n2,14,16,12,\n",
        &[
            "logs.csv:2:12 [\"] cell: a quotation mark opens here and none closes it",
            "logs.csv:2:12 [\"an open quote\n2,14,16,12,] notes must be at most 100 printable characters, got \"an open quote\\n2,14,16,12,\"",
        ],
    );
    check_faults(
        "wrong 11",
        "id,small end (in),butt (in),length (ft),over bark,count,bark\n1,14,16,12,maybe,0,1/2\n",
        &[
            "logs.csv:1:57 [bark] bark: the numbers below have no unit, the first of them is \"1/2\" on line 2",
            "logs.csv:2:12 [maybe] over bark must be yes or no, got \"maybe\"",
            "logs.csv:2:18 [0] count must be a whole number between 1 and 20000, got \"0\"",
        ],
    );
    check_faults(
        "wrong 12",
        "id,small end (in),butt (in),length (ft)\n1,\"14,5\",16,12\n",
        &[
            "logs.csv:2:6 [,] small end: \"14,5\" is not a length: it has a comma; write a decimal point (24.5), and thousands without a separator (1200)",
        ],
    );
    check_faults(
        "wrong 13",
        "id,species,small end (in),butt (in),length (ft)\n1,wite oak,14,16,12\na name that is long,,14,16,12\n",
        &[
            "logs.csv:2:3 [wite oak] species: no species is named \"wite oak\"; nearest: Oak, white; a species may be left out where nobody asks for weight, bark or shrinkage",
            "logs.csv:3:1 [a name that is long] id must be 1 to 12 characters on one line, got \"a name that is long\"",
        ],
    );
    check_faults(
        "wrong 14",
        "\n",
        &["job.toml:1:13 [\"logs.csv\"] logs_file: \"logs.csv\" is empty"],
    );
}

#[test]
fn a_sheet_that_is_none() {
    let place = directory("none", &[("job.toml", WANTS)]);
    let told_of = |bytes: Option<&[u8]>| {
        if let Some(bytes) = bytes {
            std::fs::write(place.join("logs.csv"), bytes).unwrap();
        }
        told(&read_job(&place.join("job.toml"), "JOB").unwrap_err())
    };
    let at = "job.toml:1:13 [\"logs.csv\"] logs_file:";
    assert_eq!(told_of(None), [format!("{at} there is no file \"logs.csv\"")]);
    assert_eq!(told_of(Some(b" \n")), [format!("{at} \"logs.csv\" is empty")]);
    let utf8 = "is not UTF-8 text: the byte 0xe9 on line 2 belongs to no character";
    assert_eq!(told_of(Some(b"id\ncaf\xe9")), [format!("{at} \"logs.csv\" {utf8}")]);
    let huge = vec![b','; (4 << 20) + 1];
    let large = "is larger than 4194304 bytes, and no sheet of logs is";
    assert_eq!(told_of(Some(&huge)), [format!("{at} \"logs.csv\" {large}")]);
    std::fs::remove_dir_all(place).unwrap();
}

#[test]
fn a_sheet_of_nothing_but_separators_has_no_log() {
    let found = told(&read("separators", ",,\n,\n").unwrap_err());
    assert_eq!(found.len(), 1, "{found:#?}");
    assert!(found[0].ends_with("logs_file: the sheet has no log in it"), "{found:#?}");
}
