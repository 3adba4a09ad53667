//! The settings of the sheet beside its preview: each change is a step, and the pages follow at once.

use std::collections::BTreeMap;
use std::sync::Arc;

use iced::keyboard::key::Named;
use iced::keyboard::{self, Key, Location, Modifiers};
use kurbo::{Rect, Vec2};
use shankline::drawing::{Drawing, Shape};
use shankline::joint::{Edit, Look, Paper, SheetView, file};
use shankline::stock::Stock;
use shankline::window::look::Command;
use shankline::window::sheet::Message as On;
use shankline::window::sheet::fields::{BlockField, Field, RevisionField};
use shankline::window::{App, Message, top};

use super::window_bench::Bench;
use super::window_clicks::shown;

fn opened() -> Bench {
    let mut bench = Bench::new(None);
    bench.send(Message::Top(top::Message::Pressed(Command::Sheet)));
    bench
}

fn words(pages: &[Drawing]) -> Vec<String> {
    let of = |it: &shankline::drawing::Item| match &it.shape {
        Shape::Text { words, .. } => Some(words.clone()),
        Shape::Path { .. } => None,
    };
    pages.iter().flat_map(|it| &it.items).filter_map(of).collect()
}

fn says(bench: &Bench, wanted: &str) -> bool {
    words(bench.app.sheet().pages()).iter().any(|it| it.contains(wanted))
}

fn typed(bench: &mut Bench, field: Field, text: &str) {
    bench.send(Message::Sheet(On::Typed(field, text.to_owned())));
}

fn entered(bench: &mut Bench, field: Field, text: &str) {
    typed(bench, field, text);
    bench.send(Message::Sheet(On::Entered(field)));
}

fn key(named: Named, modifiers: Modifiers) -> Message {
    Message::Key(keyboard::Event::KeyPressed {
        key: Key::Named(named),
        modified_key: Key::Named(named),
        physical_key: keyboard::key::Physical::Unidentified(keyboard::key::NativeCode::Unidentified),
        location: Location::Standard,
        modifiers,
        text: None,
        repeat: false,
    })
}

fn undo(bench: &mut Bench) {
    bench.send(Message::Top(top::Message::Pressed(Command::Undo)));
}

/// Where everything stands that can be drawn aside, from what it belongs to, and its box.
fn standing(bench: &Bench) -> BTreeMap<String, (Vec2, Rect)> {
    let all = bench.app.sheet().pages().iter().flat_map(|it| &it.handles);
    all.map(|it| (it.what.clone(), (it.at.center() - it.anchor, it.at))).collect()
}

#[test]
fn what_is_drawn_aside_leaves_the_rest_where_it_stands() {
    let stock = Arc::new(Stock::built_in());
    let text = include_str!("../../sample-projects/alder-court-hanger.joint.json");
    let joint = file::read(text, &stock).expect("a sample is sound");
    let mut bench = Bench::with(App::new(stock, joint, None));
    bench.send(Message::Top(top::Message::Pressed(Command::Sheet)));
    // Those of the page that is shown.
    let marks: Vec<String> = standing(&bench).into_keys().filter(|it| it.starts_with("front mark")).collect();
    assert!(5 < marks.len(), "{marks:?}");
    let mut put: Vec<(String, Vec2)> = Vec::new();
    for what in marks.iter().step_by(3) {
        let before = standing(&bench);
        let at = before[what].1.center();
        bench.send(Message::Sheet(On::Pressed(at)));
        bench.send(Message::Sheet(On::Moved(at + Vec2::new(-14.0, 9.0))));
        bench.send(Message::Sheet(On::Released));
        let after = standing(&bench);
        put.push((what.clone(), before[what].0 + Vec2::new(-14.0, 9.0)));
        for (what, wanted) in &put {
            assert!((after[what].0 - *wanted).hypot() < 1e-6, "{what} is where it was put");
        }
        let taken = before[what].1 + Vec2::new(-14.0, 9.0);
        for (other, (from, was_at)) in before.iter().filter(|it| it.0 != what) {
            let in_the_way = 0.0 < was_at.intersect(taken).area();
            let Some((now, _)) = after.get(other) else { panic!("{other} is gone") };
            assert!(in_the_way || (*now - *from).hypot() < 0.2, "{what} moved {other} by {:?}", *now - *from);
        }
        undo(&mut bench);
        assert_eq!(standing(&bench), before, "one step takes all of it back");
        bench.send(Message::Top(top::Message::Pressed(Command::Redo)));
    }
}

#[test]
fn every_field_of_the_title_block_is_typed_shown_at_once_kept_and_taken_back() {
    let fields = [
        (BlockField::Title, "North wall"),
        (BlockField::Supplement, "Bay two"),
        (BlockField::Detail, "D7"),
        (BlockField::Number, "S-201"),
        (BlockField::Owner, "Mill Lane Joiners"),
        (BlockField::Drawn, "A. Reed"),
        (BlockField::Checked, "B. Sedge"),
        (BlockField::Approved, "C. Rush"),
        (BlockField::Date, "3 May"),
    ];
    let mut bench = opened();
    let at_first = bench.app.document().joint().clone();
    for (field, text) in fields {
        typed(&mut bench, Field::Block(field), text);
        assert!(says(&bench, text), "{field:?} is shown while it is typed");
        assert!(
            shown(&bench.app, iced::Size::new(1280.0, 1600.0)).find(text).is_ok(),
            "{field:?} stays typed"
        );
    }
    // The last one is kept by Enter, the others were kept when the next was begun.
    bench.send(Message::Sheet(On::Entered(Field::Block(BlockField::Date))));
    assert_eq!(bench.app.document().joint().title, "North wall");
    let sheet = &bench.app.document().joint().sheet;
    let kept = [&sheet.supplement, &sheet.detail, &sheet.number, &sheet.owner, &sheet.drawn];
    assert_eq!(kept, ["Bay two", "D7", "S-201", "Mill Lane Joiners", "A. Reed"]);
    assert_eq!([&sheet.checked, &sheet.approved, &sheet.date], ["B. Sedge", "C. Rush", "3 May"]);
    for _ in fields {
        undo(&mut bench);
    }
    assert_eq!(*bench.app.document().joint(), at_first);
}

#[test]
fn no_letter_waits_for_pages_and_pages_that_were_drawn_are_not_drawn_again() {
    let mut bench = opened();
    let field = Field::Block(BlockField::Owner);
    let drawn = |bench: &Bench| bench.app.sheet().pages().as_ptr();
    let at_first = drawn(&bench);
    let letter =
        |text: &str, bench: &mut Bench| bench.app.update(Message::Sheet(On::Typed(field, text.to_owned())));
    let first = letter("M", &mut bench);
    let second = letter("Mi", &mut bench);
    let third = letter("Mill Lane", &mut bench);
    assert_eq!(drawn(&bench), at_first, "the pages are drawn beside the window");
    for task in [first, second, third] {
        bench.go_on(task);
    }
    assert!(says(&bench, "Mill Lane"), "the newest of them is shown");
    let after = drawn(&bench);
    bench.send(Message::Sheet(On::Entered(field)));
    assert_eq!(bench.app.document().joint().sheet.owner, "Mill Lane");
    assert_eq!(drawn(&bench), after, "what is kept is what is shown already");
    undo(&mut bench);
    assert!(!says(&bench, "Mill Lane"));
}

#[test]
fn a_list_is_drawn_aside_as_a_block_and_taken_back() {
    let mut bench = opened();
    entered(&mut bench, Field::Note(0), "Plumb the post first.");
    let what = |bench: &Bench| {
        let found = standing(bench).into_iter().find(|it| it.0.ends_with(" list notes"));
        found.expect("the notes can be drawn aside")
    };
    let (name, (from, at)) = what(&bench);
    let before = standing(&bench);
    let page: usize = name.split(' ').nth(1).and_then(|it| it.parse().ok()).expect("its page");
    for _ in 1..page {
        bench.send(Message::Sheet(On::PagePressed(true)));
    }
    let by = Vec2::new(-30.0, -12.0);
    // By its heading: elsewhere a drag shifts a paper that is looked at closer.
    let heading = at.origin() + Vec2::new(2.0, 2.0);
    bench.send(Message::Sheet(On::Pressed(at.center())));
    bench.send(Message::Sheet(On::Moved(at.center() + by)));
    bench.send(Message::Sheet(On::Released));
    assert_eq!(standing(&bench), before);
    bench.send(Message::Sheet(On::Pressed(heading)));
    bench.send(Message::Sheet(On::Moved(heading + by)));
    bench.send(Message::Sheet(On::Released));
    let (again, (now, _)) = what(&bench);
    assert_eq!(again, name);
    assert!((now - from - by).hypot() < 1e-6, "{now:?} {from:?}");
    assert_eq!(bench.app.document().joint().sheet.moved.len(), 1, "no other list is held");
    undo(&mut bench);
    assert_eq!(standing(&bench), before);
}

#[test]
fn a_list_is_held_within_the_drawing_room_while_it_is_drawn_aside() {
    let mut bench = opened();
    let pages = bench.app.sheet().pages();
    let handle = pages[0].handles.iter().find(|it| it.what.contains(" list ")).expect("a list").clone();
    let room = pages[0].room.expect("a page has room");
    let heading = handle.at.origin() + Vec2::new(2.0, 2.0);
    bench.send(Message::Sheet(On::Pressed(heading)));
    bench.send(Message::Sheet(On::Moved(heading + Vec2::new(900.0, 900.0))));
    bench.send(Message::Sheet(On::Released));
    let now = standing(&bench)[&handle.what].1;
    assert!((now.x1 - room.x1).abs() < 1e-6 && (now.y1 - room.y1).abs() < 1e-6, "{now:?} {room:?}");
    // It is kept there, so that it does not jump when the joint is opened again; and the keys take it no farther.
    let by = bench.app.document().joint().sheet.moved[0].by_mm;
    bench.send(Message::Sheet(On::Nudged(5, -5)));
    let now = bench.app.document().joint().sheet.moved[0].by_mm;
    assert!((Vec2::from(now) - Vec2::from(by)).hypot() < 1e-6, "{now:?} {by:?}");
}

#[test]
fn paper_scale_and_views_change_the_pages_and_can_be_taken_back() {
    let mut bench = opened();
    let size = |bench: &Bench| bench.app.sheet().pages()[0].size_mm;
    let first = size(&bench);
    let mut sheet = bench.app.document().joint().sheet.clone();
    (sheet.paper, sheet.portrait) = (Some(Paper::A3), true);
    bench.send(Message::Sheet(On::Picked("Paper".into(), Edit::Sheet(Box::new(sheet)))));
    assert_eq!(size(&bench), (297.0, 420.0));
    entered(&mut bench, Field::Scale, "1:7");
    assert!(says(&bench, "1:7"));
    entered(&mut bench, Field::Scale, "");
    assert_eq!(bench.app.document().joint().sheet.scale, None);
    // A plane for the automatic view makes the views the user's own.
    let views = shankline::drawing::sheet_views(&shankline::drawing::Inputs {
        joint: bench.app.document().joint(),
        trace: &bench.app.document().shown().trace,
        findings: &bench.app.document().shown().findings,
    });
    assert_eq!(views, [SheetView { look: Look::Front, cut_mm: None }]);
    entered(&mut bench, Field::Cut(0), "20\"");
    let cut = bench.app.document().joint().sheet.views[0].cut_mm.expect("it is cut");
    assert!((cut - 508.0).abs() < 1e-9, "20 inches of 25.4 mm: {cut}");
    assert!(
        says(&bench, "cut at z 1'-8\"") || says(&bench, "cut at z 20\""),
        "{:?}",
        words(bench.app.sheet().pages())
    );
    for _ in 0..4 {
        undo(&mut bench);
    }
    assert_eq!(size(&bench), first);
}

#[test]
fn what_cannot_be_read_is_told_and_neither_kept_nor_lost() {
    let mut bench = opened();
    typed(&mut bench, Field::Scale, "large");
    assert!(shown(&bench.app, iced::Size::new(1280.0, 900.0)).find("large").is_ok());
    bench.send(Message::Sheet(On::Entered(Field::Scale)));
    assert_eq!(bench.app.document().joint().sheet.scale, None);
    assert!(
        shown(&bench.app, iced::Size::new(1280.0, 900.0)).find("large").is_ok(),
        "it is still there to mend"
    );
    // Escape drops the typing, then closes the sheet.
    bench.send(key(Named::Escape, Modifiers::empty()));
    assert!(bench.app.sheet().is_open());
    bench.send(key(Named::Escape, Modifiers::empty()));
    assert!(!bench.app.sheet().is_open());
}

#[test]
fn notes_and_revisions_are_added_and_taken_away() {
    let mut bench = opened();
    entered(&mut bench, Field::Note(0), "Plumb the post first.");
    entered(&mut bench, Field::Note(1), "Oil the threads.");
    assert_eq!(bench.app.document().joint().notes, ["Plumb the post first.", "Oil the threads."]);
    assert!(says(&bench, "Oil the threads."));
    // A note that is emptied again is no note.
    typed(&mut bench, Field::Note(2), "x");
    entered(&mut bench, Field::Note(2), "");
    assert_eq!(bench.app.document().joint().notes.len(), 2);
    let mut sheet = bench.app.document().joint().sheet.clone();
    sheet.revisions.push(shankline::joint::Revision { mark: "A".into(), ..Default::default() });
    bench.send(Message::Sheet(On::Picked("Add a revision".into(), Edit::Sheet(Box::new(sheet)))));
    entered(&mut bench, Field::Revision(0, RevisionField::What), "Longer nails");
    assert!(says(&bench, "REVISIONS") && says(&bench, "Longer nails"));
    typed(&mut bench, Field::Revision(0, RevisionField::By), "A. Reed");
    // Export and save take what is still being typed.
    undo(&mut bench);
    assert_eq!(bench.app.document().joint().sheet.revisions[0].by, "");
    assert_eq!(bench.app.document().joint().sheet.revisions[0].what, "Longer nails");
}
