//! The joint file as other programs read it.

use shankline::joint::file;
use shankline::stock::Stock;

use crate::findings::same_as_stored;

#[test]
fn the_schema_of_a_joint_file_is_current() {
    same_as_stored("resources/schema/joint.schema.json", &file::schema());
}

#[test]
fn an_empty_joint_is_written_and_read() {
    let joint = shankline::joint::Joint::default();
    let text = file::write(&joint);
    assert_eq!(file::read(&text, &Stock::default()), Ok(joint));
    assert_eq!(text.lines().count(), 7, "{text}");
}
