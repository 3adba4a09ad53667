//! What the software renderer paints from frame to frame: no more than has changed, and in few pieces.
//!
//! The renderer paints the window anew once for every box that differs from the frame before; many small boxes made
//! a drag slower than painting everything (measured by `cargo bench --bench frame`).

use iced::{Event, Rectangle, Size, mouse};
use iced_test::core::renderer::Style;
use iced_test::core::{clipboard, window};
use iced_test::runtime::UserInterface;
use iced_test::runtime::user_interface::Cache;
use iced_tiny_skia::Layer;
use iced_tiny_skia::graphics::damage;
use kurbo::Vec2;
use shankline::window::theme::{self, FONT_FILES, REGULAR};
use shankline::window::{App, Message, canvas};

use super::window_bench::Bench;

const BOUNDS: Size = Size::new(1280.0, 800.0);

/// The layers of the frame before, and what the toolkit keeps from frame to frame.
struct Screen {
    renderer: iced::Renderer,
    cache: Cache,
    layers: Vec<Layer>,
}

impl Screen {
    fn new() -> Self {
        for font in FONT_FILES {
            let mut system = iced_tiny_skia::graphics::text::font_system().write();
            if let Ok(system) = &mut system {
                system.load_font(font.into());
            }
        }
        let renderer = iced_tiny_skia::Renderer::new(REGULAR, iced::Pixels(13.0));
        Self { renderer, cache: Cache::default(), layers: Vec::new() }
    }

    /// The boxes that are painted to show the window as it is now.
    fn painted(&mut self, app: &App) -> Vec<Rectangle> {
        let mut ui =
            UserInterface::build(app.view(), BOUNDS, std::mem::take(&mut self.cache), &mut self.renderer);
        let redraw = Event::Window(window::Event::RedrawRequested(std::time::Instant::now()));
        let cursor = mouse::Cursor::Unavailable;
        let mut messages = Vec::new();
        let _ = ui.update(&[redraw], cursor, &mut self.renderer, &mut clipboard::Null, &mut messages);
        let style = Style { text_color: app.colours().text };
        ui.draw(&mut self.renderer, &theme::theme(app.colours()), &style, cursor);
        self.cache = ui.into_cache();
        let layers = self.renderer.layers().to_vec();
        let boxes = damage::diff(&self.layers, &layers, |it| vec![it.bounds], Layer::damage);
        self.layers = layers;
        damage::group(boxes, Rectangle::with_size(BOUNDS))
    }
}

fn sample() -> Bench {
    let joint = include_str!("../../sample-projects/heron-lane-ledger.joint.json");
    let stock = std::sync::Arc::new(shankline::stock::Stock::built_in());
    let joint = shankline::joint::file::read(joint, &stock).expect("a sample is sound");
    let mut bench = Bench::with(App::new(stock, joint, None));
    bench.send(Message::Canvas(canvas::Message::Resized(700.0, 480.0)));
    bench
}

#[test]
fn a_frame_like_the_one_before_paints_nothing() {
    let bench = sample();
    let mut screen = Screen::new();
    let all = screen.painted(&bench.app);
    assert!(!all.is_empty());
    // The toolkit may settle for a frame.
    let _ = screen.painted(&bench.app);
    assert_eq!(screen.painted(&bench.app), Vec::new());
}

#[test]
fn a_move_of_the_pointer_alone_leaves_the_drawing_as_it_is() {
    let mut bench = sample();
    let mut screen = Screen::new();
    for n in 0..3 {
        let _ = screen.painted(&bench.app);
        bench.send(Message::Canvas(canvas::Message::Moved(kurbo::Point::new(20.0 + f64::from(n), 20.0))));
    }
    let area: f32 = screen.painted(&bench.app).iter().map(Rectangle::area).sum();
    assert!(
        area < 30_000.0,
        "only the place of the pointer is told anew, but {area} square pixels are painted"
    );
}

#[test]
fn a_drag_paints_the_drawing_in_one_piece() {
    let mut bench = sample();
    let mut screen = Screen::new();
    let _ = screen.painted(&bench.app);
    let head = bench.app.document().shown().trace.fasteners[0].head_at.plan();
    let from = bench.app.canvas().camera.on_screen(head);
    bench.send(Message::Canvas(canvas::Message::Pressed(from)));
    for n in 0..12 {
        bench.send(Message::Canvas(canvas::Message::Moved(from + Vec2::new(8.0, 5.0 * f64::from(n)))));
        let boxes = screen.painted(&bench.app);
        assert!(bench.app.document().in_hand());
        assert!(boxes.len() <= 24, "step {n} is painted in {} pieces", boxes.len());
        let drawing = Rectangle { x: 232.0, y: 84.0, width: 690.0, height: 440.0 };
        let over = boxes.iter().filter(|it| 100.0 < it.intersection(&drawing).map_or(0.0, |it| it.area()));
        assert!(over.count() <= 2, "step {n} paints the drawing more than once: {boxes:?}");
    }
}
