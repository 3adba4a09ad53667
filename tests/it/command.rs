//! The command line as a real process: standard output, standard error and exit code.

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

fn shankline(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_shankline"))
        .args(arguments)
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        // No display: a call that wants the window must fall back on text.
        .env_remove("DISPLAY")
        .env_remove("WAYLAND_DISPLAY")
        .output()
        .expect("the program starts")
}

fn out(output: &Output) -> String {
    String::from_utf8(output.stdout.clone()).expect("the output is UTF-8")
}

fn err(output: &Output) -> String {
    String::from_utf8(output.stderr.clone()).expect("the messages are UTF-8")
}

const SOUND: &str = "sample-projects/osier-lane-strap.joint.json";
const FAULTY: &str = "sample-projects/heron-lane-ledger.joint.json";

fn written(folder: &Path, name: &str, text: &str) -> PathBuf {
    let path = folder.join(name);
    std::fs::write(&path, text).expect("the folder can be written");
    path
}

#[test]
fn the_exit_code_tells_sound_from_faulty_from_unusable() {
    assert_eq!(shankline(&["check", SOUND]).status.code(), Some(0));
    assert_eq!(shankline(&["check", FAULTY]).status.code(), Some(1));
    assert_eq!(shankline(&["check", FAULTY, SOUND]).status.code(), Some(1));
    assert_eq!(shankline(&["check", "no-such-file.joint.json"]).status.code(), Some(2));
    assert_eq!(shankline(&["check"]).status.code(), Some(2));
    assert_eq!(shankline(&["chekc", SOUND]).status.code(), Some(2));
}

/// Two of the eight nails of the mill-row floor lie partly outside the joist and carry nothing that can be counted.
#[test]
fn a_sum_says_of_how_many_fasteners_it_is() {
    let said = out(&shankline(&["check", "sample-projects/mill-row-floor.joint.json"]));
    assert!(said.contains("420 lb by 6 of 8 fasteners, the others have no value"), "{said}");
}

/// Nail 4 of the stud runs 13.86, 51.96 and 14.18 mm: what is measured is told rounded down.
#[test]
fn a_core_is_told_as_its_findings_tell_it() {
    let said = out(&shankline(&["check", "sample-projects/kiln-house-stud.joint.json"]));
    assert!(said.contains("stud 13.8 mm | sole plate 51.9 mm | air 14.1 mm | bite 51.9 mm"), "{said}");
    assert!(said.contains("stands more than 14.1 mm out of the sole plate"), "{said}");
}

/// No lag screw of the ledger bites 4 D (NDS 2018 12.1.4.6), whatever its length.
#[test]
fn choices_without_a_value_are_not_said_to_carry_nothing() {
    let with = ["--with", "all lag-screw/0.375x5", "--with", "gap 0"];
    let said = out(&shankline(&[&["compare", FAULTY], &with[..]].concat()));
    assert_eq!(said.matches("; no value\n").count(), 3, "{said}");
    assert!(!said.contains("0 lb in all"), "{said}");
}

#[test]
fn one_bad_file_does_not_stop_the_rest() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let bad = written(
        folder.path(),
        "bad.joint.json",
        "{\n  \"format\": \"shankline-joint\",\n  \"version\": 1,\n  \"titel\": 3\n}\n",
    );
    let output = shankline(&["check", bad.to_str().expect("UTF-8"), SOUND]);
    assert_eq!(output.status.code(), Some(2));
    assert!(out(&output).contains("Osier Lane"), "the good file is still checked");
    let said = err(&output);
    assert!(said.contains("bad.joint.json:4:3: "), "file, line and column are named: {said}");
    assert!(
        said.contains("titel") && said.contains("title"),
        "the key and the nearest spelling are named: {said}"
    );
}

#[test]
fn json_goes_alone_to_the_standard_output() {
    let output = shankline(&["check", "--json", FAULTY, SOUND, "no-such-file"]);
    assert_eq!(output.status.code(), Some(2));
    let json: serde_json::Value =
        serde_json::from_slice(&output.stdout).expect("valid JSON and nothing else");
    assert_eq!(json["format"], "shankline-check");
    assert_eq!(json["version"], 1);
    let files = json["files"].as_array().expect("a list");
    assert_eq!(files.len(), 2);
    assert_eq!(files[0]["verdict"], "faults");
    assert_eq!(files[1]["verdict"], "sound");
    assert!(err(&output).contains("no-such-file"));
}

/// The figures of Heron Lane, worked out by hand in `samples`: ledger 38.1, foam 25.4, rim 28.575.
#[test]
fn json_has_the_numbers_worked_out_by_hand() {
    let sample = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-projects/heron-lane-ledger.joint.json");
    let result = shankline(&["check", "--json", &sample.display().to_string()]);
    let json: serde_json::Value = serde_json::from_slice(&result.stdout).expect("it is JSON");
    let file = &json["files"][0];
    let upper = &file["fasteners"][0];
    assert_eq!((json["format"].as_str(), json["version"].as_u64()), (Some("shankline-check"), Some(1)));
    assert_eq!((file["standard"].as_str(), file["verdict"].as_str()), (Some("nds-2018"), Some("faults")));
    assert_eq!((upper["id"].as_str(), upper["holding_body"].as_str()), (Some("upper"), Some("rim")));
    let near = |value: &serde_json::Value, expected: f64| {
        let value = value.as_f64().expect("a number");
        assert!((value - expected).abs() < 1e-9, "{value} is not {expected}");
    };
    near(&upper["length_mm"], 101.6);
    near(&upper["bite_mm"], 28.575);
    near(&upper["bite_square_mm"], 28.575);
    near(&upper["point_out_mm"], 9.525);
    near(&upper["cover_mm"], 76.2);
    near(&upper["angle_to_face_deg"], 90.0);
    let runs = [("ledger", "bearing", 38.1), ("foam", "filling", 63.5), ("rim", "bearing", 92.075)];
    for (n, (body, what, to)) in runs.into_iter().enumerate() {
        let run = &upper["core"][n];
        assert_eq!((run["body"].as_str(), run["what"].as_str()), (Some(body), Some(what)));
        near(&run["to_mm"], to);
    }
    assert!(upper["core"][3]["body"].is_null(), "the air has no body");
    near(&upper["core"][3]["to_mm"], 101.6);
    let short =
        file["findings"].as_array().expect("a list").iter().find(|it| {
            it["kind"].as_str() == Some("short_bite") && it["subjects"][0].as_str() == Some("upper")
        });
    let short = short.expect("the upper screw is short");
    near(&short["measured"], 28.575);
    near(&short["required"], 38.1);
    assert_eq!((short["unit"].as_str(), short["severity"].as_str()), (Some("mm"), Some("fault")));
}

/// The lower middle bolt of the splice, worked out in `carry::hand`: 0.5 x 1.5 x 5600 / 4 = 1050 lb in double shear,
/// half for each plane, 0.9982 of it in a row of two; 8000 N by four bolts and two planes. Each washer of 1.375 in
/// on a hole of 9/16 in bears pi / 4 (1.375^2 - 0.5625^2) x 625 psi = 772.7 lb (NDS 2018 12.1.3.3, Table 4A).
#[test]
fn json_has_what_is_carried_worked_out_by_hand() {
    let sample = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-projects/ferry-yard-splice.joint.json");
    let result = shankline(&["check", "--json", &sample.display().to_string()]);
    let json: serde_json::Value = serde_json::from_slice(&result.stdout).expect("it is JSON");
    let file = &json["files"][0];
    let bolt = file["fasteners"].as_array().expect("a list").iter().find(|it| it["id"] == "b3");
    let bolt = bolt.expect("the bolt is there");
    let near = |value: &serde_json::Value, expected: f64, within: f64| {
        let value = value.as_f64().expect("a number");
        assert!((value - expected).abs() < within, "{value} is not {expected}");
    };
    let pound = 4.448_221_615_260_5;
    assert_eq!(bolt["planes"].as_array().map(Vec::len), Some(2));
    for (plane, between) in [(0, ("front-board", "right-tie")), (1, ("right-tie", "back-board"))] {
        let plane = &bolt["planes"][plane];
        assert_eq!((plane["side"].as_str(), plane["main"].as_str()), (Some(between.0), Some(between.1)));
        assert_eq!((plane["mode"].as_str(), plane["shear"].as_str()), (Some("Im"), Some("double")));
        near(&plane["gap_mm"], 0.0, 1e-9);
        near(&plane["reference_n"], 525.0 * pound, 1e-6);
        near(&plane["modes"]["Im"], 525.0 * pound, 1e-6);
        // Is: two sides of 1 1/2 in bear 2 x 1050 lb, half of that for the plane.
        near(&plane["modes"]["Is"], 1050.0 * pound, 1e-6);
        near(&plane["factors"]["group_action"], 0.9982, 5e-5);
        near(&plane["factors"]["load_duration"], 1.0, 1e-12);
        near(&plane["adjusted_n"], 525.0 * 0.9982 * pound, 0.2);
        near(&plane["demand_n"], 1000.0, 1e-9);
        near(&plane["ratio"], 1000.0 / (525.0 * 0.9982 * pound), 1e-4);
    }
    let washer = std::f64::consts::FRAC_PI_4 * (1.375 * 1.375 - 0.5625 * 0.5625) * 625.0 * pound;
    near(&bolt["withdrawal"]["adjusted_n"], washer, 1e-6);
    near(&bolt["combined_ratio"], 1000.0 / (525.0 * 0.9982 * pound), 1e-4);
    assert_eq!(file["cases"][0]["name"], "load 1 on right tie");
    let joined = file["connections"].as_array().expect("a list");
    let joined = joined.iter().find(|it| it["between"][1] == "right-tie").expect("it is listed");
    near(&joined["adjusted_n"], 4.0 * 525.0 * 0.9982 * pound, 0.8);
    near(&joined["demand_n"], 4000.0, 1e-9);
}

#[test]
fn every_number_of_the_working_has_its_formula_and_clause() {
    let text = out(&shankline(&["check", "--working", SOUND]));
    for part in [
        "Carries, by published formulas (EN 1995-1-1, design values):",
        "M_y,Rk = ",
        "f_h,1,k = ",
        "N/mm2 (EN 1995-1-1 8.",
        "gamma_M = 1.3",
        "reference ",
        "ratio ",
    ] {
        assert!(text.contains(part), "no {part}: {text}");
    }
    let plain = out(&shankline(&["check", SOUND]));
    assert!(plain.contains("Carries") && !plain.contains("M_y,Rk"), "{plain}");
}

#[test]
fn choices_stand_side_by_side() {
    let output = shankline(&["compare", FAULTY, "--with", "all lag-screw/0.375x5", "--with", "gap 0"]);
    assert_eq!(output.status.code(), Some(0), "{}", err(&output));
    let text = out(&output);
    for part in ["A  heron-lane", "B  all lag-screw/0.375x5", "C  gap 0", "upper:", "lower:", "bite 1 1/8"] {
        assert!(text.contains(part), "no {part}: {text}");
    }
    let output = shankline(&["compare", FAULTY, SOUND, "--json"]);
    let json: serde_json::Value = serde_json::from_slice(&output.stdout).expect("it is JSON");
    assert_eq!(json["format"], "shankline-compare");
    assert_eq!(json["choices"].as_array().map(Vec::len), Some(2));
    assert_eq!(shankline(&["compare", FAULTY]).status.code(), Some(2));
    let wrong = shankline(&["compare", FAULTY, "--with", "upper lag-screw/0.375x99"]);
    assert_eq!(wrong.status.code(), Some(2));
    assert!(err(&wrong).contains("stock has no fastener"), "{}", err(&wrong));
    let help = out(&shankline(&["compare", "--help"]));
    for part in ["all nail/common/10d", "gap LENGTH", "angle n1 25", "material rim", "standard NAME"] {
        assert!(help.contains(part), "no {part}: {help}");
    }
}

#[test]
fn a_call_for_the_window_without_a_display_says_so_in_one_line_and_checks() {
    let output = shankline(&[FAULTY]);
    assert_eq!(err(&output).lines().count(), 1, "{}", err(&output));
    assert!(err(&output).starts_with("No window: "));
    assert!(out(&output).contains("Heron Lane"));
    assert_eq!(output.status.code(), Some(1));
    assert_eq!(shankline(&[]).status.code(), Some(2));
}

#[test]
fn a_detail_is_drawn_with_the_same_bytes_every_time() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let (one, two) = (folder.path().join("one.svg"), folder.path().join("two.svg"));
    for path in [&one, &two] {
        let output = shankline(&["draw", FAULTY, "-o", path.to_str().expect("UTF-8")]);
        assert_eq!(output.status.code(), Some(0), "{}", err(&output));
    }
    let svg = std::fs::read_to_string(&one).expect("it was written");
    assert_eq!(svg, std::fs::read_to_string(&two).expect("it was written"));
    assert_eq!(svg, out(&shankline(&["draw", FAULTY, "-o", "-"])));
    assert!(usvg::Tree::from_str(&svg, &usvg::Options::default()).is_ok());
}

#[test]
fn all_pages_that_are_written_are_named() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let path = folder.path().join("splice.svg");
    let call = ["draw", "sample-projects/ferry-yard-splice.joint.json", "-o", path.to_str().expect("UTF-8")];
    let output = shankline(&call);
    assert_eq!(output.status.code(), Some(0), "{}", err(&output));
    assert!(folder.path().join("splice-2.svg").exists());
    assert_eq!(err(&output), format!("2 pages: {} and splice-2.svg\n", path.display()));
    assert!(output.stdout.is_empty());
}

#[test]
fn many_files_are_drawn_into_a_folder_in_any_format_with_progress() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let into = folder.path().to_str().expect("UTF-8");
    let bad = written(folder.path(), "bad.joint.json", "{");
    let call = ["draw", FAULTY, bad.to_str().expect("UTF-8"), SOUND, "-o", into, "--format", "pdf"];
    let output = shankline(&call);
    assert_eq!(output.status.code(), Some(2), "the bad file is told");
    let told = err(&output);
    for words in ["1/3", "bad.joint.json not drawn", "3/3"] {
        assert!(told.contains(words), "{words} in {told}");
    }
    assert!(output.stdout.is_empty());
    let pdfs = std::fs::read_dir(folder.path())
        .expect("it is there")
        .filter(|it| it.as_ref().is_ok_and(|it| it.path().extension().is_some_and(|it| it == "pdf")));
    assert_eq!(pdfs.count(), 2, "the others are drawn");
    assert_eq!(shankline(&["draw", FAULTY, SOUND, "-o", "nowhere"]).status.code(), Some(2));
}

#[test]
fn paper_scale_views_and_pages_are_as_asked() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let path = folder.path().join("x.svg");
    let path_words = path.to_str().expect("UTF-8");
    let asked = ["--paper", "a3", "--scale", "1:8", "--view", "front", "--view", "top@2 in", "--pages", "1"];
    let output = shankline(&[&["draw", FAULTY, "-o", path_words][..], &asked[..]].concat());
    assert_eq!(output.status.code(), Some(0), "{}", err(&output));
    let svg = std::fs::read_to_string(&path).expect("it was written");
    assert!(svg.contains("width=\"420mm\"") && svg.contains("(1:8)") && svg.contains("Top, cut at y 2"));
    // A4 is 210 by 297 mm (ISO 216), and stands where it is asked to.
    let standing = ["draw", FAULTY, "-o", path_words, "--paper", "A4", "--orientation", "portrait"];
    assert_eq!(shankline(&standing).status.code(), Some(0));
    let svg = std::fs::read_to_string(&path).expect("it was written");
    assert!(svg.contains("width=\"210mm\"") && svg.contains("height=\"297mm\""), "{}", &svg[..200]);
    for wrong in
        [["--scale", "soon"], ["--view", "back"], ["--pages", "0"], ["--pages", "99"], ["--dpi", "0"]]
    {
        let output = shankline(&[&["draw", FAULTY, "-o", path_words][..], &wrong[..]].concat());
        assert_eq!(output.status.code(), Some(2), "{wrong:?}: {}", err(&output));
    }
    // Further pages stand beside the first.
    let output = shankline(&["draw", FAULTY, "-o", path_words, "--letters", "outlines"]);
    assert_eq!(output.status.code(), Some(0), "{}", err(&output));
    assert!(folder.path().join("x-2.svg").is_file());
    assert!(!std::fs::read_to_string(&path).expect("it was written").contains("<text"));
}

#[test]
fn an_output_that_cannot_be_written_is_code_3() {
    let output = shankline(&["draw", FAULTY, "-o", "no-such-folder/x.svg"]);
    assert_eq!(output.status.code(), Some(3));
    assert!(err(&output).contains("no-such-folder/x.svg cannot be written"), "{}", err(&output));
}

#[test]
fn help_shows_examples_and_exit_codes_and_version_is_told() {
    let help = shankline(&["--help"]);
    assert_eq!(help.status.code(), Some(0));
    for word in ["Examples:", "check", "draw", "stock", "Exit codes:", "licensed designer"] {
        assert!(out(&help).contains(word), "help lacks {word}");
    }
    assert_eq!(out(&shankline(&["--version"])), format!("shankline {}\n", env!("CARGO_PKG_VERSION")));
}

#[test]
fn stock_is_listed_by_kind_as_text_and_json() {
    let text = out(&shankline(&["stock", "nail"]));
    assert!(text.contains("nail/common/16d"), "{text}");
    assert!(!text.contains("lag-screw/"), "only nails were asked for");
    let json: serde_json::Value =
        serde_json::from_slice(&shankline(&["stock", "--json"]).stdout).expect("valid JSON");
    assert!(json.to_string().contains("\"lumber/hem-fir\""));
    let unknown = shankline(&["stock", "nial"]);
    assert_eq!(unknown.status.code(), Some(2));
    assert!(err(&unknown).contains("nail"), "the kinds are named: {}", err(&unknown));
}

#[test]
fn every_starting_joint_is_listed_asked_for_and_drawn_without_a_fault() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let listed = out(&shankline(&["start"]));
    let words: Vec<&str> = listed.lines().take(10).filter_map(|it| it.split(' ').next()).collect();
    assert_eq!(words.len(), 10, "{listed}");
    for word in words {
        let sizes = shankline(&["start", word]);
        assert_eq!(sizes.status.code(), Some(0));
        assert!(out(&sizes).contains(&format!("shankline start {word} -o FILE")), "{}", out(&sizes));
        for standard in ["nds-2018", "en-1995-1-1"] {
            let path = folder.path().join(format!("{word}-{standard}.joint.json"));
            let path = path.to_str().expect("UTF-8");
            let output = shankline(&["start", word, "--standard", standard, "-o", path]);
            assert_eq!((output.status.code(), err(&output)), (Some(0), String::new()));
            let checked = shankline(&["check", path]);
            assert_eq!(checked.status.code(), Some(0), "{word}: {}", out(&checked));
        }
    }
}

#[test]
fn a_starting_joint_takes_sizes_and_refuses_what_it_cannot_draw() {
    let read = |arguments: &[&str]| {
        let output = shankline(arguments);
        assert_eq!(output.status.code(), Some(0), "{}", err(&output));
        serde_json::from_slice::<serde_json::Value>(&output.stdout).expect("a joint file")
    };
    let joint = read(&["start", "ledger", "--set", "ledger-depth=9-1/4", "--set", "sheathing=0", "-o", "-"]);
    // 9 1/4" is 234.95 mm.
    assert_eq!(joint["members"][0]["outline"]["rectangle"]["size"][1], 234.95);
    assert_eq!(joint["members"].as_array().map(Vec::len), Some(2));
    for (arguments, said) in [
        (vec!["start", "legder"], "did you mean `ledger`?"),
        (vec!["start", "ledger", "--set", "depth=9"], "`depth` is no size that is asked for"),
        (vec!["start", "ledger", "--set", "ledger-depth"], "NAME=VALUE is wanted"),
        (vec!["start", "ledger", "--set", "ledger-depth=2x10"], "nominal size"),
        (vec!["start", "ledger", "--set", "ledger-depth=99"], "from 3 1/2\" to 1'-4\" is possible"),
        (vec!["start", "splice", "--set", "rows=1.5"], "a whole number is wanted"),
        (vec!["start", "notch", "--set", "beam-thickness=8", "-o", "-"], "leaves less than 1\" of a post"),
    ] {
        let output = shankline(&arguments);
        assert_eq!(output.status.code(), Some(2), "{arguments:?}");
        assert!(err(&output).contains(said), "{arguments:?}: {}", err(&output));
        assert!(out(&output).is_empty());
    }
}

#[test]
fn a_starting_joint_never_takes_the_place_of_a_file_unasked() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let path = written(folder.path(), "mine.joint.json", "mine");
    let path = path.to_str().expect("UTF-8");
    let output = shankline(&["start", "ledger", "-o", path]);
    assert_eq!(output.status.code(), Some(3));
    assert!(err(&output).contains("is there already"), "{}", err(&output));
    assert_eq!(std::fs::read_to_string(path).ok().as_deref(), Some("mine"));
    assert_eq!(shankline(&["start", "ledger", "-o", path, "--force"]).status.code(), Some(0));
    assert_eq!(shankline(&["check", path]).status.code(), Some(0));
}
