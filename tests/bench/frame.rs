//! How long it takes from a move of the pointer to the finished frame, with a joint of 200 fasteners.
//!
//! `cargo bench --bench frame` drags the head of a nail and a member, moves the pointer, and drags and zooms the paper, in
//! a window of 1280 by 800 painted by the software renderer: message, chain, layout, and the pixels of what has changed
//! since the frame before, as the window does it. What is not in it is the display's own copying. Prints the
//! median and the slowest of many frames by the clock, and the median by processor time.

#![expect(clippy::print_stdout, reason = "a benchmark tells its figures")]

#[cfg(feature = "window")]
mod framed {
    use std::sync::Arc;
    use std::time::Instant;

    use iced::{Event, Rectangle, Size, mouse};
    use iced_test::core::renderer::Style;
    use iced_test::core::{clipboard, window};
    use iced_test::runtime::UserInterface;
    use iced_test::runtime::user_interface::Cache;
    use iced_tiny_skia::Layer;
    use iced_tiny_skia::graphics::{Viewport, damage};
    use kurbo::{Point, Vec2};
    use shankline::joint::{
        Fastener, Finish, Grain, Interval, Joint, Member, Outline, Placement, Seat, Treatment,
    };
    use shankline::stock::Stock;
    use shankline::unit::Vec3;
    use shankline::window::theme::{self, FONT_FILES, REGULAR};
    use shankline::window::{App, Message, canvas};
    use tiny_skia::{Mask, PixmapMut};

    const SIZE: Size<u32> = Size::new(1280, 800);
    const BOUNDS: Size = Size::new(1280.0, 800.0);
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

    fn on_processor() -> f64 {
        let text = std::fs::read_to_string("/proc/thread-self/schedstat").unwrap_or_default();
        let nanoseconds: f64 = text.split(' ').next().and_then(|it| it.parse().ok()).unwrap_or(0.0);
        nanoseconds / 1e6
    }

    /// The window, a renderer, and what the toolkit keeps from frame to frame.
    struct Screen {
        app: App,
        renderer: iced::Renderer,
        cache: Cache,
        /// What the frame before was painted of: as in a window only what differs from it is painted.
        layers: Vec<Layer>,
        pixels: Vec<u8>,
        mask: Mask,
    }

    /// Milliseconds of processor time of one frame.
    #[derive(Clone, Copy, Default)]
    struct Parts {
        /// Message, edit, chain and drawing.
        message: f64,
        /// The view, its layout, and the list of what is to be painted.
        layout: f64,
        /// The pixels.
        painting: f64,
    }

    impl Screen {
        fn new() -> Self {
            let stock = Arc::new(Stock::built_in());
            let app = App::new(stock.clone(), joint(&stock), None);
            for font in FONT_FILES {
                let mut system = iced_tiny_skia::graphics::text::font_system().write();
                if let Ok(system) = &mut system {
                    system.load_font(font.into());
                }
            }
            let mut new = Self {
                app,
                renderer: iced_tiny_skia::Renderer::new(REGULAR, iced::Pixels(13.0)),
                cache: Cache::default(),
                layers: Vec::new(),
                pixels: vec![0; SIZE.width as usize * SIZE.height as usize * 4],
                mask: Mask::new(SIZE.width, SIZE.height).expect("a window has a size"),
            };
            for _ in 0..3 {
                let _ = new.frame(Point::new(600.0, 300.0));
            }
            new
        }

        /// The pointer moves; the messages that come of it are done; the frame is laid out and painted.
        fn frame(&mut self, at: Point) -> Parts {
            #[expect(clippy::cast_possible_truncation, reason = "pixels of a window")]
            let position = iced::Point::new(at.x as f32, at.y as f32);
            let cursor = mouse::Cursor::Available(position);
            let began = on_processor();
            let mut messages = Vec::new();
            let mut ui = UserInterface::build(
                self.app.view(),
                BOUNDS,
                std::mem::take(&mut self.cache),
                &mut self.renderer,
            );
            let moved = Event::Mouse(mouse::Event::CursorMoved { position });
            let _ = ui.update(&[moved], cursor, &mut self.renderer, &mut clipboard::Null, &mut messages);
            self.cache = ui.into_cache();
            for message in messages {
                drop(self.app.update(message));
            }
            let message = on_processor() - began;
            Parts { message, ..self.paint(cursor) }
        }

        /// Lays the window out and paints what has changed since the frame before.
        fn paint(&mut self, cursor: mouse::Cursor) -> Parts {
            let began = on_processor();
            let shown = theme::theme(self.app.colours());
            let mut ui = UserInterface::build(
                self.app.view(),
                BOUNDS,
                std::mem::take(&mut self.cache),
                &mut self.renderer,
            );
            let redraw = Event::Window(window::Event::RedrawRequested(Instant::now()));
            let mut messages = Vec::new();
            let _ = ui.update(&[redraw], cursor, &mut self.renderer, &mut clipboard::Null, &mut messages);
            let style = Style { text_color: self.app.colours().text };
            ui.draw(&mut self.renderer, &shown, &style, cursor);
            self.cache = ui.into_cache();
            let laid_out = on_processor();
            let layers = self.renderer.layers().to_vec();
            let damage = damage::diff(&self.layers, &layers, |it| vec![it.bounds], Layer::damage);
            let damage = damage::group(damage, Rectangle::with_size(BOUNDS));
            self.layers = layers;
            let mut pixels = PixmapMut::from_bytes(&mut self.pixels, SIZE.width, SIZE.height)
                .expect("there are pixels for the whole window");
            let viewport = Viewport::with_physical_size(SIZE, 1.0);
            let ground = self.app.colours().pane;
            self.renderer.draw(&mut pixels, &mut self.mask, &viewport, &damage, ground);
            Parts { message: 0.0, layout: laid_out - began, painting: on_processor() - laid_out }
        }

        /// The same message with another place again and again, and how long its frames took, in milliseconds.
        fn time(&mut self, words: &str, mut message: impl FnMut(f64) -> canvas::Message) {
            let (mut clock, mut processor) = (Vec::new(), Vec::new());
            let mut all = Parts::default();
            for n in 0..FRAMES {
                let (now, began) = (Instant::now(), on_processor());
                drop(self.app.update(Message::Canvas(message(f64::from(n)))));
                let message = on_processor() - began;
                let parts = self.paint(mouse::Cursor::Unavailable);
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
            let start = self.app.canvas().camera.on_screen(Point::new(from.0, from.1));
            drop(self.app.update(Message::Canvas(canvas::Message::Pressed(start))));
            self.time(words, |n| canvas::Message::Moved(start + Vec2::new(n * 1.5, 6.0 + n % 7.0)));
            drop(self.app.update(Message::Canvas(canvas::Message::Released(start))));
        }
    }

    pub(super) fn report() {
        let mut screen = Screen::new();
        println!("from an input to the finished frame, 200 fasteners, 1280 x 800, software renderer:");
        screen.drag("a head is dragged", (50.0, 90.0));
        screen.drag("a member is dragged", (3800.0, 20.0));
        let middle = Point::new(400.0, 250.0);
        screen.time("the pointer moves", |n| canvas::Message::Moved(middle + Vec2::new(n, n)));
        drop(screen.app.update(Message::Canvas(canvas::Message::PressedMiddle(middle))));
        screen.time("the paper is dragged", |n| canvas::Message::Moved(middle + Vec2::new(n % 9.0, n % 7.0)));
        drop(screen.app.update(Message::Canvas(canvas::Message::Released(middle))));
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
