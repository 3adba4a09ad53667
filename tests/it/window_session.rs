//! Messages into the window: undo, drag, swap, fields, files. No display is needed.

use iced::keyboard::key::{Code, Key, Named, Physical};
use iced::keyboard::{Event, Location, Modifiers};
use shankline::drawing::Subject;
use shankline::unit::Vec3;
use shankline::window::canvas::gesture::Gesture;
use shankline::window::dialog::{self, Dialog, Then};
use shankline::window::files::Purpose;
use shankline::window::look::Command;
use shankline::window::selected::field::{FastenerField, Field, JointField, MemberField};
use shankline::window::{App, Message, canvas, selected, stock, top};

use super::window_bench::{self, Bench};

pub(crate) fn press(key: Key, modifiers: Modifiers) -> Message {
    let text = match &key {
        Key::Character(it) => Some(it.clone()),
        Key::Named(_) | Key::Unidentified => None,
    };
    Message::Key(Event::KeyPressed {
        modified_key: key.clone(),
        key,
        physical_key: Physical::Code(Code::Abort),
        location: Location::Standard,
        modifiers,
        text,
        repeat: false,
    })
}

pub(crate) fn let_go(it: Named) -> Message {
    Message::Key(Event::KeyReleased {
        modified_key: Key::Named(it),
        key: Key::Named(it),
        physical_key: Physical::Code(Code::Abort),
        location: Location::Standard,
        modifiers: Modifiers::empty(),
    })
}

pub(crate) fn letter(it: &str) -> Message {
    press(Key::Character(it.into()), Modifiers::empty())
}

pub(crate) fn named(it: Named) -> Message {
    press(Key::Named(it), Modifiers::empty())
}

pub(crate) fn ctrl(it: &str) -> Message {
    press(Key::Character(it.into()), Modifiers::CTRL)
}

fn typed(field: Field, text: &str) -> Message {
    Message::Selected(selected::Message::Typed(field, text.into()))
}

fn entered(field: Field) -> Message {
    Message::Selected(selected::Message::Entered(field))
}

fn head_y(id: &str) -> Field {
    Field::Fastener(id.into(), FastenerField::HeadY)
}

#[test]
fn a_head_is_dragged_seen_live_kept_as_one_step_and_undone() {
    let mut bench = Bench::new(None);
    bench.press((0.0, 76.2));
    assert_eq!(bench.app.chosen(), Some(&Subject::Fastener("n1".into())));
    bench.move_to((0.0, 90.0));
    bench.move_to((0.0, 101.0));
    // Live: what is shown has moved by eighths of an inch, what is kept has not.
    let shown = bench.app.document().shown().trace.fasteners[0].head_at;
    assert!((shown.y - (76.2 + 25.4)).abs() < 1e-9, "{shown:?}");
    assert_eq!(bench.free(0).0.y, 76.2);
    bench.release((0.0, 101.0));
    assert!((bench.free(0).0.y - 101.6).abs() < 1e-9);
    assert!(bench.app.document().journal.edited());
    assert_eq!(bench.app.document().journal.undo_name(), Some("Move fastener 1"));
    bench.send(ctrl("z"));
    assert_eq!(bench.free(0).0.y, 76.2);
    assert!(!bench.app.document().journal.edited(), "one gesture is one step");
    bench.send(ctrl("y"));
    assert!((bench.free(0).0.y - 101.6).abs() < 1e-9);
}

#[test]
fn a_point_is_dragged_and_the_core_follows() {
    let mut bench = Bench::new(None);
    let before = bench.app.document().shown().trace.fasteners[0].core.clone();
    bench.press((88.9, 76.2));
    bench.move_to((60.0, 136.2));
    assert_ne!(bench.app.document().shown().trace.fasteners[0].core, before);
    bench.release((60.0, 136.2));
    let (head, toward) = bench.free(0);
    assert_eq!(head, Vec3::new(0.0, 76.2, 600.0));
    assert!((toward.y.atan2(toward.x).to_degrees() - 45.0).abs() < 1e-9, "{toward:?}");
}

#[test]
fn escape_puts_a_drag_back() {
    let mut bench = Bench::new(None);
    bench.press((0.0, 76.2));
    bench.move_to((40.0, 120.0));
    bench.send(named(Named::Escape));
    assert_eq!(bench.app.canvas().gesture, Gesture::Idle);
    bench.release((40.0, 120.0));
    assert_eq!(bench.free(0).0, Vec3::new(0.0, 76.2, 600.0));
    assert_eq!(bench.app.document().shown().joint, *bench.app.document().joint());
    assert!(!bench.app.document().journal.edited());
}

#[test]
fn a_number_typed_in_the_middle_of_a_drag_is_exact() {
    let mut bench = Bench::new(None);
    bench.press((0.0, 76.2));
    bench.move_to((0.0, 90.0));
    for it in ["1", " ", "3", "/", "1", "6"] {
        let key = if it == " " { named(Named::Space) } else { letter(it) };
        bench.send(key);
    }
    bench.send(named(Named::Tab));
    bench.send(letter("9"));
    bench.send(letter("0"));
    bench.send(named(Named::Enter));
    let (head, _) = bench.free(0);
    assert!((head.y - (76.2 + 1.1875 * 25.4)).abs() < 1e-9, "{head:?}");
    assert_eq!(head.x, 0.0);
    assert_eq!(bench.app.canvas().gesture, Gesture::Idle);
}

#[test]
fn arrows_nudge_by_the_snap_and_shift_by_ten() {
    let mut bench = Bench::new(None);
    bench.press((0.0, 76.2));
    bench.release((0.0, 76.2));
    bench.send(named(Named::ArrowUp));
    assert!((bench.free(0).0.y - (76.2 + 3.175)).abs() < 1e-9);
    bench.send(press(Key::Named(Named::ArrowRight), Modifiers::SHIFT));
    assert!((bench.free(0).0.x - 31.75).abs() < 1e-9);
}

#[test]
fn a_size_of_stock_swaps_the_chosen_fastener_as_one_step() {
    let mut bench = Bench::new(None);
    bench.press((0.0, 76.2));
    bench.release((0.0, 76.2));
    let longer = window_bench::stock().fasteners["nail/common/20d"].clone();
    bench.send(Message::Stock(stock::Message::SizePressed(longer)));
    assert!((bench.length_of(0) - 101.6).abs() < 1e-9);
    bench.send(ctrl("z"));
    assert!((bench.length_of(0) - 88.9).abs() < 1e-9);
    bench.send(letter("["));
    assert!((bench.length_of(0) - 63.5).abs() < 1e-9, "the next shorter of its table");
}

#[test]
fn a_new_fastener_is_driven_by_press_and_drag() {
    let mut bench = Bench::new(None);
    let spec = window_bench::stock().fasteners["nail/common/8d"].clone();
    bench.send(Message::Stock(stock::Message::NewPressed(spec)));
    bench.drag((0.3, 25.0), (60.0, 25.4));
    let joint = bench.app.document().joint();
    assert_eq!(joint.fasteners.len(), 3);
    let (head, toward) = bench.free(2);
    assert!(head.x.abs() < 1e-9, "caught by the face of the board: {head:?}");
    assert!((head.y - 25.4).abs() < 1e-9, "on the snap: {head:?}");
    assert_eq!(head.z, 600.0, "in the middle of the board's depth");
    assert_eq!(toward, Vec3::X);
    assert_eq!(bench.app.chosen(), Some(&Subject::Fastener(joint.fasteners[2].id.clone())));
    bench.send(ctrl("z"));
    assert_eq!(bench.app.document().joint(), &window_bench::joint());
    assert_eq!(bench.app.chosen(), None, "what is gone is not chosen");
}

#[test]
fn typed_text_is_shown_as_it_reads_and_kept_by_enter() {
    let mut bench = Bench::new(None);
    bench.press((0.0, 76.2));
    bench.release((0.0, 76.2));
    bench.send(typed(head_y("n1"), "4 1/2"));
    assert!((bench.app.document().shown().trace.fasteners[0].head_at.y - 114.3).abs() < 1e-9);
    assert_eq!(bench.free(0).0.y, 76.2, "not kept before Enter");
    bench.send(entered(head_y("n1")));
    assert!((bench.free(0).0.y - 114.3).abs() < 1e-9);
    bench.send(ctrl("z"));
    assert_eq!(bench.free(0).0.y, 76.2, "typing in one field is one step");
}

#[test]
fn what_cannot_be_read_keeps_the_old_value() {
    let mut bench = Bench::new(None);
    bench.press((0.0, 76.2));
    bench.release((0.0, 76.2));
    for text in ["4 1/0", "abc", "", "10d"] {
        bench.send(typed(head_y("n1"), text));
        bench.send(entered(head_y("n1")));
        assert_eq!(bench.free(0).0.y, 76.2, "{text:?}");
        assert_eq!(bench.app.document().shown().joint, *bench.app.document().joint(), "{text:?}");
    }
    bench.send(named(Named::Escape));
    assert!(!bench.app.document().journal.edited());
}

#[test]
fn going_on_to_another_field_keeps_what_was_typed() {
    let mut bench = Bench::new(None);
    bench.press((0.0, 76.2));
    bench.release((0.0, 76.2));
    bench.send(typed(head_y("n1"), "4\""));
    bench.send(typed(Field::Fastener("n1".into(), FastenerField::Direction), "30"));
    assert!((bench.free(0).0.y - 101.6).abs() < 1e-9);
    bench.send(Message::Top(top::Message::Pressed(Command::Undo)));
    assert!((bench.free(0).0.y - 101.6).abs() < 1e-9, "undo takes back the turn, which was typed last");
    assert_eq!(bench.free(0).1, Vec3::X);
}

#[test]
fn members_are_edited_and_impossible_ones_refused() {
    let mut bench = Bench::new(None);
    let field = |it| Field::Member("near".into(), it);
    bench.send(typed(field(MemberField::Width), "1 3/4"));
    bench.send(entered(field(MemberField::Width)));
    let width = |bench: &Bench| match bench.app.document().joint().members[0].outline {
        shankline::joint::Outline::Rectangle { size_mm, .. } => size_mm.0,
        _ => panic!("it is a rectangle"),
    };
    assert!((width(&bench) - 44.45).abs() < 1e-9);
    bench.send(typed(field(MemberField::Width), "-1"));
    bench.send(entered(field(MemberField::Width)));
    assert!((width(&bench) - 44.45).abs() < 1e-9);
    bench.send(typed(field(MemberField::Far), "5000 mm"));
    bench.send(entered(field(MemberField::Far)));
    assert_eq!(bench.app.document().joint().members[0].depth.from, 0.0, "depth must begin before it ends");
}

#[test]
fn a_bad_file_opens_a_panel_and_leaves_the_joint() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("bad.joint.json");
    std::fs::write(&path, "{ \"format\": \"something else\" ").unwrap();
    let mut bench = Bench::new(None);
    bench.send(Message::PathPicked(Purpose::Open, Some(path.clone())));
    let Dialog::Problems { head, lines } = bench.app.dialog() else { panic!("{:?}", bench.app.dialog()) };
    assert!(head.contains("bad.joint.json"));
    assert!(!lines.is_empty());
    assert_eq!(bench.app.document().joint(), &window_bench::joint());
    bench.send(named(Named::Escape));
    assert_eq!(bench.app.dialog(), &Dialog::Closed);
    let app = App::open(window_bench::stock(), path);
    assert!(matches!(app.dialog(), Dialog::Problems { .. }));
}

#[test]
fn a_save_that_fails_keeps_the_work_and_the_sign() {
    let folder = tempfile::tempdir().unwrap();
    let mut bench = Bench::new(Some(folder.path().join("gone").join("a.joint.json")));
    bench.press((0.0, 76.2));
    bench.release((0.0, 76.2));
    bench.send(named(Named::ArrowUp));
    let before = bench.app.document().joint().clone();
    bench.send(ctrl("s"));
    assert!(matches!(bench.app.dialog(), Dialog::Problems { .. }), "{:?}", bench.app.dialog());
    assert_eq!(bench.app.document().joint(), &before);
    assert!(bench.app.document().journal.edited());
}

#[test]
fn a_joint_is_saved_and_the_sign_of_editing_goes() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("shed é.joint.json");
    let mut bench = Bench::new(Some(path.clone()));
    bench.press((0.0, 76.2));
    bench.release((0.0, 76.2));
    bench.send(named(Named::ArrowUp));
    bench.send(ctrl("s"));
    assert!(!bench.app.document().journal.edited());
    assert!(std::fs::metadata(&path).unwrap().len() > 100);
    bench.send(ctrl("z"));
    assert!(bench.app.document().journal.edited(), "undone beyond what was saved");
}

#[test]
fn unsaved_changes_are_asked_about_before_they_are_lost() {
    let folder = tempfile::tempdir().unwrap();
    let mut bench = Bench::new(Some(folder.path().join("a.joint.json")));
    bench.send(typed(Field::Joint(JointField::Title), "Other"));
    bench.send_only(Message::CloseRequested);
    assert_eq!(bench.app.dialog(), &Dialog::Unsaved(Then::Close), "what is being typed counts");
    bench.send(Message::Dialog(dialog::Message::CancelPressed));
    assert_eq!(bench.app.document().joint().title, "Other");
    bench.send(ctrl("n"));
    assert_eq!(bench.app.dialog(), &Dialog::Unsaved(Then::New));
    bench.send(Message::Dialog(dialog::Message::SavePressed));
    assert_eq!(bench.app.document().joint().title, "", "saved, then a new joint");
    assert!(folder.path().join("a.joint.json").exists());
}

#[test]
fn dont_save_goes_on_without_a_file() {
    let mut bench = Bench::new(None);
    bench.send(typed(Field::Joint(JointField::Title), "Other"));
    bench.send(ctrl("n"));
    bench.send(Message::Dialog(dialog::Message::DiscardPressed));
    assert_eq!(bench.app.document().joint(), &shankline::joint::Joint::default());
    assert!(!bench.app.document().journal.edited());
}

#[test]
fn without_a_dialog_of_the_desktop_a_path_is_typed() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("detail");
    let mut bench = Bench::new(None);
    bench.send_only(Message::PathPicked(Purpose::Export, None));
    assert!(matches!(bench.app.dialog(), Dialog::Path { purpose: Purpose::Export, .. }));
    bench.send(Message::Dialog(dialog::Message::PathTyped(String::new())));
    bench.send(Message::Dialog(dialog::Message::PathEntered));
    assert!(matches!(bench.app.dialog(), Dialog::Path { error: Some(_), .. }), "nothing was typed");
    bench.send(Message::Dialog(dialog::Message::PathTyped(path.display().to_string())));
    bench.send(Message::Dialog(dialog::Message::PathEntered));
    assert_eq!(bench.app.dialog(), &Dialog::Closed);
    let svg = std::fs::read_to_string(path.with_extension("svg")).unwrap();
    assert!(svg.contains("<svg"));
    assert!(!bench.app.document().journal.edited());
}

#[test]
fn a_typed_path_replaces_no_file_unasked() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("other.svg");
    std::fs::write(&path, "somebody's work").unwrap();
    let mut bench = Bench::new(None);
    bench.send_only(Message::PathPicked(Purpose::Export, None));
    bench.send(Message::Dialog(dialog::Message::PathTyped(path.display().to_string())));
    bench.send(Message::Dialog(dialog::Message::PathEntered));
    assert!(matches!(bench.app.dialog(), Dialog::Path { error: Some(_), .. }), "it is asked first");
    assert_eq!(std::fs::read_to_string(&path).unwrap(), "somebody's work");
    bench.send(Message::Dialog(dialog::Message::PathEntered));
    assert_eq!(bench.app.dialog(), &Dialog::Closed);
    assert!(std::fs::read_to_string(&path).unwrap().contains("<svg"), "confirmed once more, it is replaced");
}

#[test]
fn escape_goes_one_level_back_each_time() {
    let mut bench = Bench::new(None);
    bench.press((0.0, 76.2));
    bench.release((0.0, 76.2));
    bench.send(typed(head_y("n1"), "9\""));
    bench.send(named(Named::F1));
    assert_eq!(bench.app.dialog(), &Dialog::Keys);
    bench.send(named(Named::Escape));
    assert_eq!(bench.app.dialog(), &Dialog::Closed);
    bench.send(named(Named::Escape));
    assert_eq!(bench.app.document().shown().joint, window_bench::joint(), "the typed text is dropped");
    assert!(bench.app.chosen().is_some());
    bench.send(named(Named::Escape));
    assert_eq!(bench.app.chosen(), None);
}

#[test]
fn zoom_and_pan_change_nothing_but_the_view() {
    let mut bench = Bench::new(None);
    let held = bench.px(38.1, 92.0);
    bench.send(Message::Canvas(canvas::Message::Wheel(held, 3.0, 0.0)));
    assert!((bench.px(38.1, 92.0) - held).hypot() < 1e-6, "what is under the pointer stays");
    let scale = bench.app.canvas().camera.scale;
    bench.send(Message::Canvas(canvas::Message::PressedMiddle(held)));
    bench.send(Message::Canvas(canvas::Message::Moved(held + kurbo::Vec2::new(50.0, -20.0))));
    bench.send(Message::Canvas(canvas::Message::Released(held)));
    assert!((bench.px(38.1, 92.0) - held - kurbo::Vec2::new(50.0, -20.0)).hypot() < 1e-6);
    assert_eq!(bench.app.canvas().camera.scale, scale);
    bench.send(letter("f"));
    assert_ne!(bench.app.canvas().camera.scale, scale);
    assert!(!bench.app.document().journal.edited());
    bench.send(ctrl("0"));
    assert_eq!(bench.app.canvas().camera.scale, 1.0);
}

#[test]
fn delete_copy_and_paste_keep_their_places_in_the_list() {
    let mut bench = Bench::new(None);
    bench.press((0.0, 76.2));
    bench.release((0.0, 76.2));
    bench.send(ctrl("c"));
    bench.send(named(Named::Delete));
    assert_eq!(bench.app.document().joint().fasteners.len(), 1);
    bench.send(ctrl("z"));
    assert_eq!(bench.app.document().joint(), &window_bench::joint());
    bench.send(ctrl("v"));
    let joint = bench.app.document().joint();
    assert_eq!(joint.fasteners.len(), 3);
    assert!((bench.free(2).0.y - (76.2 + 25.4)).abs() < 1e-9, "an inch above its original");
    assert_ne!(joint.fasteners[2].id, joint.fasteners[0].id);
}
