//! `shankline check`: every core and every finding, as text for people or JSON for programs.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use super::chain::{self, Chained};
use super::{End, print, print_json, tell};
use crate::findings::report::{FileResult, report_file};
use crate::findings::{Findings, Severity, Verdict};
use crate::joint::{Joint, StandardId};
use crate::stock::Stock;
use crate::trace::{BodyIx, Owner, Run, Shank, Trace, What};
use crate::unit::length::{Rounding, format as length};

/// Check joint files: every core, every finding
#[derive(clap::Args, Debug)]
pub(super) struct Call {
    /// Joint files
    #[arg(required = true)]
    files: Vec<PathBuf>,
    /// Print JSON for programs, lengths in millimetres
    #[arg(long)]
    json: bool,
    /// Show how every number came about
    #[arg(long, conflicts_with = "json")]
    working: bool,
}

impl Call {
    /// A check in text of one file.
    pub(super) fn text(file: PathBuf) -> Self {
        Self { files: vec![file], json: false, working: false }
    }
}

/// Checks all files; one that cannot be used does not stop the rest.
pub(super) fn run(call: &Call) -> End {
    let stock = Stock::built_in();
    let mut end = End::Clean;
    let mut text = String::new();
    let mut results = Vec::new();
    for path in &call.files {
        match chain::guarded(path, || one(call, path, &stock)) {
            Ok(checked) => {
                end = end.max(checked.end);
                text.push_str(&checked.text);
                results.extend(checked.result);
            }
            Err(problems) => {
                end = End::Unusable;
                tell(&format!("{}\n", problems.join("\n")));
            }
        }
    }
    if call.json {
        return print_json(&crate::findings::report::print(results), end);
    }
    if 1 < call.files.len() {
        say_total(&mut text, call.files.len(), end);
    }
    print(&text, end)
}

/// What is said of one file: its text, or its part of the JSON.
struct Checked {
    end: End,
    text: String,
    result: Option<FileResult>,
}

fn one(call: &Call, path: &Path, stock: &Stock) -> Result<Checked, Vec<String>> {
    let chained = chain::run(path, stock)?;
    let has_faults = chained.findings.verdict() == Verdict::Faults;
    let mut checked =
        Checked { end: if has_faults { End::Faults } else { End::Clean }, text: String::new(), result: None };
    if call.json {
        let (joint, trace, findings) = (&chained.joint, &chained.trace, &chained.findings);
        checked.result = Some(report_file(&path.to_string_lossy(), joint, trace, findings));
    } else {
        say_file(&mut checked.text, path, &chained, call.working);
    }
    Ok(checked)
}

fn say_file(out: &mut String, path: &Path, chained: &Chained, working: bool) {
    let (joint, trace, findings) = (&chained.joint, &chained.trace, &chained.findings);
    let title = if joint.title.is_empty() { "untitled" } else { &joint.title };
    line(out, &format!("{}: {title}", path.display()));
    line(out, &format!("Checked by {}, as drawn.", standard_name(joint.standard)));
    say_cores(out, joint, trace);
    super::carries::say(out, joint, trace, working);
    say_findings(out, joint, findings, working);
    say_not_checked(out, findings);
    out.push('\n');
}

fn say_cores(out: &mut String, joint: &Joint, trace: &Trace) {
    if joint.fasteners.is_empty() {
        line(out, "\nNo fastener is drawn.");
        return;
    }
    line(out, "\nCores, head to point:");
    let wide = joint.fasteners.iter().map(|it| it.id.chars().count()).max().unwrap_or(0);
    for (number, (fastener, shank)) in joint.fasteners.iter().zip(&trace.fasteners).enumerate() {
        let label = &fastener.spec.label;
        line(out, &format!("{:>4}  {:wide$}  {label}", number + 1, fastener.id));
        line(out, &format!("{:>4}  {:wide$}  {}", "", "", core_words(joint, trace, shank)));
    }
}

/// A core in words: `ledger 1 1/2" | gap 1" | rim 1 1/2" | bite 1 1/2"`.
fn core_words(joint: &Joint, trace: &Trace, shank: &Shank) -> String {
    let unit = joint.show_lengths_in;
    let mut words: Vec<String> = shank
        .core
        .iter()
        .map(|run| {
            format!(
                "{} {}",
                run_words(joint, trace, run),
                length(run.to_mm - run.from_mm, unit, Rounding::Down)
            )
        })
        .collect();
    match &shank.holding {
        Some(holding) => words.push(format!("bite {}", length(holding.bite_mm, unit, Rounding::Down))),
        None => words.push("no bite".to_owned()),
    }
    words.join(" | ")
}

fn run_words(joint: &Joint, trace: &Trace, run: &Run) -> String {
    match (run.body, run.what) {
        (Some(body), _) => body_name(joint, trace, body).to_owned(),
        (None, What::Steel) => "washer".to_owned(),
        (None, What::Gap) => "gap".to_owned(),
        (None, What::Bearing | What::Filling | What::Air) => "air".to_owned(),
    }
}

fn body_name<'a>(joint: &'a Joint, trace: &Trace, body: BodyIx) -> &'a str {
    match trace.bodies[body.0].owner {
        Owner::Member(at) => joint.members[at].shown_name(),
        Owner::Plate { connector, .. } => joint.connectors[connector].shown_name(),
    }
}

fn say_findings(out: &mut String, joint: &Joint, findings: &Findings, working: bool) {
    if findings.list.is_empty() {
        line(out, "\nNothing was found against it, as drawn.");
        return;
    }
    line(out, &format!("\n{}:", counts(findings)));
    let marks: BTreeMap<&str, usize> =
        joint.fasteners.iter().enumerate().map(|(n, it)| (it.id.as_str(), n + 1)).collect();
    for finding in &findings.list {
        let subject = finding.subjects.first().map_or("", String::as_str);
        let number = marks.get(subject).map_or(String::new(), |it| format!("No. {it}, "));
        line(
            out,
            &format!("  {:<8}{number}{subject}: {}", finding.severity.word().to_uppercase(), finding.says),
        );
        if let Some(remedy) = &finding.remedy {
            line(out, &format!("          Remedy: {}", remedy.says));
        }
        line(out, &format!("          Source: {}", finding.source));
        if working {
            for step in finding.working.lines() {
                line(out, &format!("            {step}"));
            }
        }
    }
}

fn say_not_checked(out: &mut String, findings: &Findings) {
    line(out, "\nNot checked:");
    for it in &findings.not_checked {
        line(out, &format!("  {it}"));
    }
    line(out, "Local code, the connector maker's instructions and a licensed designer decide.");
}

fn say_total(out: &mut String, files: usize, end: End) {
    let verdict = match end {
        End::Clean => "no faults as drawn",
        End::Faults => "faults found",
        End::Unusable | End::NotWritten => "some could not be used; see the messages",
    };
    line(out, &format!("{files} files: {verdict}."));
}

/// How many of each severity: `2 faults, 1 caution`.
fn counts(findings: &Findings) -> String {
    let words: Vec<String> = [Severity::Fault, Severity::Caution, Severity::Note]
        .into_iter()
        .filter_map(|severity| {
            let n = findings.list.iter().filter(|it| it.severity == severity).count();
            let plural = if n == 1 { "" } else { "s" };
            (0 < n).then(|| format!("{n} {}{plural}", severity.word()))
        })
        .collect();
    words.join(", ")
}

fn standard_name(id: StandardId) -> &'static str {
    match id {
        StandardId::Nds2018 => "NDS 2018",
        StandardId::En199511 => "EN 1995-1-1",
    }
}

pub(super) fn line(out: &mut String, text: &str) {
    // Writing to a string cannot fail.
    let _ = writeln!(out, "{text}");
}
