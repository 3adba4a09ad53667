//! How long it takes from a move of the pointer to the finished frame, with a joint of 200 fasteners.
//!
//! `cargo bench --bench frame` drags the head of a nail and moves a member, in a window of 1280 by 800 painted by
//! the software renderer: message, chain, layout, painting and the finished pixels. Prints the median and the
//! slowest of many frames by the clock, and the median by processor time.

#![expect(clippy::print_stdout, reason = "a benchmark tells its figures")]

#[cfg(feature = "window")]
mod framed {
    use std::sync::Arc;
    use std::time::Instant;

    use iced::{Event, Size, mouse};
    use iced_test::core::renderer::{Headless, Style};
    use iced_test::core::{clipboard, window};
    use iced_test::runtime::UserInterface;
    use iced_test::runtime::user_interface::Cache;
    use kurbo::Point;
    use shankline::joint::{
        Fastener, Finish, Grain, Interval, Joint, Member, Outline, Placement, Seat, Treatment,
    };
    use shankline::stock::Stock;
    use shankline::unit::Vec3;
    use shankline::window::theme::{self, FONT_FILES, REGULAR};
    use shankline::window::{App, Message, canvas};

    const SIZE: Size<u32> = Size::new(1280, 800);
    const FRAMES: usize = 60;

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

    fn on_processor() -> u64 {
        let text = std::fs::read_to_string("/proc/thread-self/schedstat").unwrap_or_default();
        text.split(' ').next().and_then(|it| it.parse().ok()).unwrap_or(0)
    }

    /// The window, a renderer, and what the toolkit keeps from frame to frame.
    struct Screen {
        app: App,
        renderer: iced::Renderer,
        cache: Cache,
    }

    impl Screen {
        fn new() -> Self {
            let stock = Arc::new(Stock::built_in());
            let app = App::new(stock.clone(), joint(&stock), None);
            for font in FONT_FILES {
                let mut system = iced_test::renderer::graphics::text::font_system().write();
                if let Ok(system) = &mut system {
                    system.load_font(font.into());
                }
            }
            let renderer = iced_test::futures::futures::executor::block_on(
                <iced::Renderer as Headless>::new(REGULAR, iced::Pixels(13.0), Some("tiny-skia")),
            );
            let mut new = Self {
                app,
                renderer: renderer.expect("the software renderer is always there"),
                cache: Cache::default(),
            };
            for _ in 0..3 {
                let _ = new.frame(Point::new(600.0, 300.0));
            }
            new
        }

        /// The pointer moves; the messages that come of it are done; the frame is laid out and painted. The number of
        /// bytes of its pixels.
        fn frame(&mut self, at: Point) -> usize {
            #[expect(clippy::cast_possible_truncation, reason = "pixels of a window")]
            let position = iced::Point::new(at.x as f32, at.y as f32);
            let cursor = mouse::Cursor::Available(position);
            let bounds = Size::new(1280.0, 800.0);
            let mut messages = Vec::new();
            let mut ui = UserInterface::build(
                self.app.view(),
                bounds,
                std::mem::take(&mut self.cache),
                &mut self.renderer,
            );
            let moved = Event::Mouse(mouse::Event::CursorMoved { position });
            let _ = ui.update(&[moved], cursor, &mut self.renderer, &mut clipboard::Null, &mut messages);
            self.cache = ui.into_cache();
            for message in messages {
                drop(self.app.update(message));
            }
            self.paint(cursor, bounds)
        }

        fn paint(&mut self, cursor: mouse::Cursor, bounds: Size) -> usize {
            let shown = theme::theme(self.app.colours());
            let mut ui = UserInterface::build(
                self.app.view(),
                bounds,
                std::mem::take(&mut self.cache),
                &mut self.renderer,
            );
            let redraw = Event::Window(window::Event::RedrawRequested(Instant::now()));
            let mut messages = Vec::new();
            let _ = ui.update(&[redraw], cursor, &mut self.renderer, &mut clipboard::Null, &mut messages);
            let style = Style { text_color: self.app.colours().text };
            ui.draw(&mut self.renderer, &shown, &style, cursor);
            self.cache = ui.into_cache();
            self.renderer.screenshot(SIZE, 1.0, self.app.colours().pane).len()
        }

        /// Drags from a place of the model and tells how long the frames took, in milliseconds.
        fn drag(&mut self, words: &str, from: (f64, f64)) {
            let start = self.app.canvas().camera.on_screen(Point::new(from.0, from.1));
            drop(self.app.update(Message::Canvas(canvas::Message::Pressed(start))));
            let (mut clock, mut processor) = (Vec::new(), Vec::new());
            for n in 0..FRAMES {
                #[expect(clippy::cast_precision_loss, reason = "a count of frames")]
                let to = start + kurbo::Vec2::new(n as f64 * 1.5, 6.0 + (n % 7) as f64);
                let (began, worked) = (Instant::now(), on_processor());
                drop(self.app.update(Message::Canvas(canvas::Message::Moved(to))));
                let pixels = self.paint(mouse::Cursor::Unavailable, Size::new(1280.0, 800.0));
                assert_eq!(pixels, 1280 * 800 * 4);
                clock.push(began.elapsed().as_secs_f64() * 1e3);
                #[expect(clippy::cast_precision_loss, reason = "nanoseconds of a frame")]
                processor.push((on_processor() - worked) as f64 / 1e6);
            }
            drop(self.app.update(Message::Canvas(canvas::Message::Released(start))));
            for list in [&mut clock, &mut processor] {
                list.sort_by(f64::total_cmp);
            }
            let median = |it: &[f64]| it[it.len() / 2];
            println!(
                "{words}: median {:.1} ms, slowest {:.1} ms by the clock; median {:.1} ms of processor time",
                median(&clock),
                clock[clock.len() - 1],
                median(&processor)
            );
        }
    }

    pub(super) fn report() {
        let mut screen = Screen::new();
        println!("from an input to the finished frame, 200 fasteners, 1280 x 800, software renderer:");
        screen.drag("a head is dragged", (50.0, 90.0));
        screen.drag("a member is dragged", (3800.0, 20.0));
    }
}

fn main() {
    // Without `--bench` this is a trial run of `cargo test`, which measures nothing.
    #[cfg(feature = "window")]
    if std::env::args().any(|it| it == "--bench") {
        framed::report();
    }
}
