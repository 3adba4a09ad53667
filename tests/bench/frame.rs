//! How long it takes from a move of the pointer to the finished frame, with a joint of 200 fasteners.
//!
//! `cargo bench --bench frame` drags the head of a nail and a member, moves the pointer, and drags and zooms the paper, in
//! a window of 1280 by 800 painted by the software renderer: message, chain, layout, and the pixels of what has changed
//! since the frame before, as the window does it. What is not in it is the display's own copying. Prints the
//! median and the slowest of many frames by the clock, and the median by processor time.

#![expect(clippy::print_stdout, reason = "a benchmark tells its figures")]

#[cfg(feature = "window")]
mod screen;

#[cfg(feature = "window")]
mod framed {
    use std::sync::Arc;
    use std::time::Instant;

    use iced::mouse;
    use kurbo::{Point, Vec2};
    use shankline::joint::{
        Fastener, Finish, Grain, Interval, Joint, Member, Outline, Placement, Seat, Treatment,
    };
    use shankline::stock::Stock;
    use shankline::unit::Vec3;
    use shankline::window::{App, Message, canvas};

    use super::screen::{Parts, Screen, on_processor};

    const FRAMES: u32 = 60;

    /// Two boards of a long sill, and 200 nails through both, two rows of a hundred, 75 mm apart.
    fn joint(stock: &Stock) -> Joint {
        let board = |id: &str, y: f64| Member {
            id: id.into(),
            name: String::new(),
            material: stock.materials["lumber/C24"].clone(),
            outline: Outline::Rectangle {
                corner: Point::new(0.0, y),
                size_mm: (7600.0, 45.0),
                turn_deg: 0.0,
            },
            cutouts: Vec::new(),
            depth: Interval { from: 0.0, to: 145.0 },
            grain: Grain::InPlane(0.0),
            treatment: Treatment::None,
            bearing: true,
            blocking: false,
        };
        let spec = stock.fasteners["nail/common/16d"].clone();
        let nail = |n: u32| Fastener {
            id: format!("n{n}"),
            spec: spec.clone(),
            place: Placement::Free {
                head: Vec3::new(
                    50.0 + 75.0 * f64::from(n / 2),
                    90.0,
                    if n.is_multiple_of(2) { 45.0 } else { 100.0 },
                ),
                toward: Vec3::new(0.0, -1.0, 0.0),
            },
            seat: Seat::Flush,
            finish: Finish::Bright,
            lead_hole: None,
            head_washer: None,
            nut_washer: None,
            existing: false,
        };
        Joint {
            members: vec![board("lower", 0.0), board("upper", 45.0)],
            fasteners: (0..200).map(nail).collect(),
            ..Joint::default()
        }
    }

    /// How long the frames of one sort took.
    struct Timed(Screen);

    impl Timed {
        /// The same message with another place again and again, and how long its frames took, in milliseconds.
        fn time(&mut self, words: &str, mut message: impl FnMut(f64) -> canvas::Message) {
            let (mut clock, mut processor) = (Vec::new(), Vec::new());
            let mut all = Parts::default();
            for n in 0..FRAMES {
                let (now, began) = (Instant::now(), on_processor());
                drop(self.0.app.update(Message::Canvas(message(f64::from(n)))));
                let message = on_processor() - began;
                let parts = self.0.paint(mouse::Cursor::Unavailable);
                clock.push(now.elapsed().as_secs_f64() * 1e3);
                processor.push(message + parts.layout + parts.painting);
                all.message += message / f64::from(FRAMES);
                all.layout += parts.layout / f64::from(FRAMES);
                all.painting += parts.painting / f64::from(FRAMES);
            }
            for list in [&mut clock, &mut processor] {
                list.sort_by(f64::total_cmp);
            }
            let (median, last) = (FRAMES as usize / 2, FRAMES as usize - 1);
            println!(
                "{words}: median {:.1} ms, slowest {:.1} ms by the clock; median {:.1} ms of processor time, of these \
                 {:.1} message and chain, {:.1} layout, {:.1} painting",
                clock[median], clock[last], processor[median], all.message, all.layout, all.painting
            );
        }

        /// Drags from a place of the model.
        fn drag(&mut self, words: &str, from: (f64, f64)) {
            let start = self.0.app.canvas().camera.on_screen(Point::new(from.0, from.1));
            drop(self.0.app.update(Message::Canvas(canvas::Message::Pressed(start))));
            self.time(words, |n| canvas::Message::Moved(start + Vec2::new(n * 1.5, 6.0 + n % 7.0)));
            drop(self.0.app.update(Message::Canvas(canvas::Message::Released(start))));
        }
    }

    pub(super) fn report() {
        let stock = Arc::new(Stock::built_in());
        let app = App::new(stock.clone(), joint(&stock), None);
        let mut screen = Timed(Screen::of(app));
        println!("from an input to the finished frame, 200 fasteners, 1280 x 800, software renderer:");
        screen.drag("a head is dragged", (50.0, 90.0));
        screen.drag("a member is dragged", (3800.0, 20.0));
        let middle = Point::new(400.0, 250.0);
        screen.time("the pointer moves", |n| canvas::Message::Moved(middle + Vec2::new(n, n)));
        drop(screen.0.app.update(Message::Canvas(canvas::Message::PressedMiddle(middle))));
        screen.time("the paper is dragged", |n| canvas::Message::Moved(middle + Vec2::new(n % 9.0, n % 7.0)));
        drop(screen.0.app.update(Message::Canvas(canvas::Message::Released(middle))));
        screen.time("the wheel is turned", |n| {
            canvas::Message::Wheel(middle, if n < 30.0 { 0.5 } else { -0.5 }, 0.0)
        });
    }
}

fn main() {
    // Without `--bench` this is a trial run of `cargo test`, which measures nothing.
    #[cfg(feature = "window")]
    if std::env::args().any(|it| it == "--bench") {
        framed::report();
    }
}
