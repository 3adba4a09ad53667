//! The window without a display: laid out and painted by the software renderer, as benches want it.

use std::time::Instant;

use iced::{Event, Rectangle, Size, mouse};
use iced_test::core::renderer::Style;
use iced_test::core::{clipboard, window};
use iced_test::runtime::UserInterface;
use iced_test::runtime::user_interface::Cache;
use iced_tiny_skia::Layer;
use iced_tiny_skia::graphics::{Viewport, damage};
use kurbo::Point;
use shankline::window::App;
use shankline::window::theme::{self, FONT_FILES, REGULAR};
use tiny_skia::{Mask, PixmapMut};

const SIZE: Size<u32> = Size::new(1280, 800);
const BOUNDS: Size = Size::new(1280.0, 800.0);

pub(crate) fn on_processor() -> f64 {
    let text = std::fs::read_to_string("/proc/thread-self/schedstat").unwrap_or_default();
    let nanoseconds: f64 = text.split(' ').next().and_then(|it| it.parse().ok()).unwrap_or(0.0);
    nanoseconds / 1e6
}

/// The window, a renderer, and what the toolkit keeps from frame to frame.
pub(crate) struct Screen {
    pub(crate) app: App,
    renderer: iced::Renderer,
    cache: Cache,
    /// What the frame before was painted of: as in a window only what differs from it is painted.
    layers: Vec<Layer>,
    pixels: Vec<u8>,
    mask: Mask,
}

/// Milliseconds of processor time of one frame.
#[derive(Clone, Copy, Default)]
pub(crate) struct Parts {
    /// Message, edit, chain and drawing.
    pub(crate) message: f64,
    /// The view, its layout, and the list of what is to be painted.
    pub(crate) layout: f64,
    /// The pixels.
    pub(crate) painting: f64,
}

impl Screen {
    /// A window that has been painted already.
    pub(crate) fn of(app: App) -> Self {
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
    pub(crate) fn paint(&mut self, cursor: mouse::Cursor) -> Parts {
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
}
