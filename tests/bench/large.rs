//! What a very large joint takes in the window: opened, chosen from, changed.
//!
//! `cargo bench --bench large` opens a wall of 5,000 and of 50,000 fasteners as the window does, in a window of 1280 by
//! 800 painted by the software renderer, and prints by the clock how long each step keeps the window, and how long the
//! work beside it takes until everything is judged again.

#![expect(clippy::print_stdout, reason = "a benchmark tells its figures")]

#[cfg(feature = "window")]
#[expect(dead_code, reason = "the walls of other benches too")]
mod wall;

#[cfg(feature = "window")]
mod screen;

#[cfg(feature = "window")]
mod timed {
    use std::sync::Arc;
    use std::time::Instant;

    use iced::keyboard::{self, Location, Modifiers, key};
    use iced::mouse;
    use iced_test::futures::futures::StreamExt as _;
    use iced_test::futures::futures::executor::block_on;
    use iced_test::runtime::{Action, task};
    use shankline::drawing::Subject;
    use shankline::joint::file;
    use shankline::stock::Stock;
    use shankline::window::{App, Message, files, stock};

    use super::screen::Screen;
    use super::wall::{Size, wall};

    fn since(began: Instant) -> f64 {
        began.elapsed().as_secs_f64() * 1e3
    }

    /// Sends a message; milliseconds until the window has it, then until its frame is painted, then until all that was
    /// begun beside the window is done, at most so many answers.
    fn step(screen: &mut Screen, words: &str, message: Message, answers: usize) {
        let began = Instant::now();
        let task = screen.app.update(message);
        let taken = since(began);
        let parts = screen.paint(mouse::Cursor::Unavailable);
        let painted = parts.layout + parts.painting + parts.message;
        let (beside, count) = beside(screen, task, answers);
        println!(
            "  {words}: the window is kept {taken:.0} ms, its frame {painted:.0} ms; beside it {beside:.0} ms, {count} answers"
        );
    }

    /// Does what a task asks for, and what comes of its answers.
    fn beside(screen: &mut Screen, task: iced::Task<Message>, most: usize) -> (f64, usize) {
        let began = Instant::now();
        let (mut waiting, mut count) = (vec![task], 0);
        while let Some(task) = waiting.pop() {
            let Some(mut stream) = task::into_stream(task) else { continue };
            while let Some(action) = block_on(stream.next()) {
                if let Action::Output(answer) = action
                    && count < most
                {
                    count += 1;
                    let (is_verdict, kept) = (matches!(answer, Message::Judged(..)), Instant::now());
                    waiting.push(screen.app.update(answer));
                    if is_verdict {
                        println!(
                            "    judged after {:.0} ms; to show that keeps the window {:.0} ms",
                            since(began),
                            since(kept)
                        );
                    }
                }
            }
        }
        (since(began), count)
    }

    pub(super) fn report(size: Size) {
        let stock = Arc::new(Stock::built_in());
        let folder = tempfile::tempdir().expect("there is room for a file");
        let path = folder.path().join("wall.joint.json");
        std::fs::write(&path, file::write(&wall(size))).expect("it can be written");
        println!("{size}:");
        let began = Instant::now();
        let judged = files::judged(&path, &stock);
        println!("  read and judged beside the window: {:.0} ms", since(began));
        let app = App::new(stock, shankline::joint::Joint::default(), None);
        let mut screen = Screen::of(app);
        step(&mut screen, "opened", Message::Opened(path, judged), 1);
        let joint = screen.app.document().joint();
        let middle = joint.fasteners[joint.fasteners.len() / 2].id.clone();
        let chosen = Message::Stock(stock::Message::ThingPressed(Subject::Fastener(middle)));
        step(&mut screen, "a fastener is chosen", chosen, 0);
        let arrow = keyboard::Event::KeyPressed {
            key: key::Key::Named(key::Named::ArrowUp),
            modified_key: key::Key::Named(key::Named::ArrowUp),
            physical_key: key::Physical::Unidentified(key::NativeCode::Unidentified),
            location: Location::Standard,
            modifiers: Modifiers::empty(),
            text: None,
            repeat: false,
        };
        step(&mut screen, "it is nudged", Message::Key(arrow), usize::MAX);
    }
}

fn main() {
    // Without `--bench` this is a trial run of `cargo test`, which measures nothing.
    #[cfg(feature = "window")]
    if std::env::args().any(|it| it == "--bench") {
        let five_thousand = wall::Size { name: "five thousand", members: 200, fasteners: 5_000 };
        let only = std::env::var("FASTENERS").ok().and_then(|it| it.parse::<usize>().ok());
        for size in [five_thousand, wall::LARGE] {
            if only.is_none_or(|it| it == size.fasteners) {
                timed::report(size);
            }
        }
    }
}
