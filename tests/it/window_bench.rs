//! A joint of our own, a small stock, and a hand that plays messages into the window without a display.

use std::path::PathBuf;
use std::sync::Arc;

use iced_test::futures::futures::StreamExt as _;
use iced_test::futures::futures::executor::block_on;
use iced_test::runtime::{Action, clipboard, task};
use kurbo::Point;
use shankline::joint::{
    Fastener, Finish, Grain, Interval, Joint, Member, Outline, Placement, Seat, Treatment,
};
use shankline::stock::{Family, FastenerKind, FastenerSpec, Material, Stock, WoodType};
use shankline::unit::{LengthUnit, Vec3};
use shankline::window::{App, Message, canvas};

/// A nail of the lengths and diameters of common nails (ASTM F1667: 8d 2 1/2 by 0.131, 16d 3 1/2 by 0.162,
/// 20d 4 by 0.192 inches; from memory).
fn nail(size: &str, inches: (f64, f64)) -> Arc<FastenerSpec> {
    Arc::new(FastenerSpec {
        id: format!("nail/common/{size}"),
        label: format!("{size} common nail"),
        kind: FastenerKind::Nail,
        diameter_mm: inches.1 * 25.4,
        root_mm: None,
        length_mm: inches.0 * 25.4,
        head_mm: 8.7,
        head_height_mm: 0.0,
        thread_mm: None,
        point_mm: 0.0,
        bending_yield_mpa: None,
        tensile_mpa: None,
        nut: None,
        source: "a test".into(),
    })
}

fn lumber() -> Arc<Material> {
    Arc::new(Material {
        id: "lumber/hem-fir".into(),
        label: "Hem-fir".into(),
        family: Family::Lumber,
        wood: Some(WoodType::Softwood),
        specific_gravity: Some(0.43),
        density_kg_m3: None,
        elastic_mpa: None,
        dowel_bearing_mpa: None,
        crushing_mpa: None,
        source: "a test".into(),
    })
}

pub(crate) fn stock() -> Arc<Stock> {
    let nails = [nail("8d", (2.5, 0.131)), nail("16d", (3.5, 0.162)), nail("20d", (4.0, 0.192))];
    let mut stock = Stock::default();
    stock.fasteners.extend(nails.into_iter().map(|it| (it.id.clone(), it)));
    let _ = stock.materials.insert("lumber/hem-fir".into(), lumber());
    Arc::new(stock)
}

fn board(id: &str, x: f64) -> Member {
    Member {
        id: id.into(),
        name: String::new(),
        material: lumber(),
        outline: Outline::Rectangle { corner: Point::new(x, 0.0), size_mm: (38.1, 184.15), turn_deg: 0.0 },
        cutouts: Vec::new(),
        depth: Interval { from: 0.0, to: 1200.0 },
        grain: Grain::AlongDepth,
        treatment: Treatment::None,
        bearing: true,
        blocking: false,
    }
}

/// Two boards on edge, side by side, and two nails through both, 3" and 5" up.
pub(crate) fn joint() -> Joint {
    let driven = |id: &str, y: f64, spec: &str| Fastener {
        id: id.into(),
        spec: stock().fasteners[spec].clone(),
        place: Placement::Free { head: Vec3::new(0.0, y, 600.0), toward: Vec3::X },
        seat: Seat::Flush,
        finish: Finish::Bright,
        lead_hole: None,
        head_washer: None,
        nut_washer: None,
        existing: false,
    };
    Joint {
        title: "Orchard shed, doubled header".into(),
        show_lengths_in: LengthUnit::Inch,
        members: vec![board("near", 0.0), board("far", 38.1)],
        fasteners: vec![driven("n1", 76.2, "nail/common/16d"), driven("n2", 127.0, "nail/common/8d")],
        ..Joint::default()
    }
}

/// The window, and a hand.
pub(crate) struct Bench {
    pub(crate) app: App,
    /// The clipboard of the system.
    pub(crate) clipboard: Option<String>,
}

impl Bench {
    pub(crate) fn new(path: Option<PathBuf>) -> Self {
        Self::with(App::new(stock(), joint(), path))
    }

    pub(crate) fn with(app: App) -> Self {
        let mut bench = Self { app, clipboard: None };
        bench.send(Message::Canvas(canvas::Message::Resized(800.0, 500.0)));
        bench
    }

    /// Plays a message, and all that its tasks answer.
    pub(crate) fn send(&mut self, message: Message) {
        let mut waiting = vec![message];
        while let Some(message) = waiting.pop() {
            let Some(mut stream) = task::into_stream(self.app.update(message)) else { continue };
            while let Some(action) = block_on(stream.next()) {
                match action {
                    Action::Output(answer) => waiting.push(answer),
                    Action::Clipboard(clipboard::Action::Write { contents, .. }) => {
                        self.clipboard = Some(contents);
                    }
                    Action::Clipboard(clipboard::Action::Read { channel, .. }) => {
                        let _ = channel.send(self.clipboard.clone());
                    }
                    _ => {}
                }
            }
        }
    }

    /// Runs a task and what comes of it.
    pub(crate) fn go_on(&mut self, task: iced::Task<Message>) {
        let Some(mut stream) = task::into_stream(task) else { return };
        while let Some(action) = block_on(stream.next()) {
            if let Action::Output(message) = action {
                self.send(message);
            }
        }
    }

    /// Plays a message whose task would ask the desktop, and leaves the task alone.
    pub(crate) fn send_only(&mut self, message: Message) {
        drop(self.app.update(message));
    }

    /// The pixel of the canvas at which a place of the model is seen.
    pub(crate) fn px(&self, x: f64, y: f64) -> Point {
        self.app.canvas().camera.on_screen(Point::new(x, y))
    }

    /// Presses at a place of the model, drags to another and lets go.
    pub(crate) fn drag(&mut self, from: (f64, f64), to: (f64, f64)) {
        self.press(from);
        self.move_to(to);
        self.release(to);
    }

    pub(crate) fn press(&mut self, at: (f64, f64)) {
        let px = self.px(at.0, at.1);
        self.send(Message::Canvas(canvas::Message::Pressed(px)));
    }

    pub(crate) fn move_to(&mut self, at: (f64, f64)) {
        let px = self.px(at.0, at.1);
        self.send(Message::Canvas(canvas::Message::Moved(px)));
    }

    pub(crate) fn release(&mut self, at: (f64, f64)) {
        let px = self.px(at.0, at.1);
        self.send(Message::Canvas(canvas::Message::Released(px)));
    }

    /// The head and the direction of a fastener of the kept joint.
    pub(crate) fn free(&self, n: usize) -> (Vec3, Vec3) {
        match &self.app.document().joint().fasteners[n].place {
            Placement::Free { head, toward } => (*head, *toward),
            Placement::Fills { .. } => panic!("it stands free in this joint"),
        }
    }

    pub(crate) fn length_of(&self, n: usize) -> f64 {
        self.app.document().joint().fasteners[n].spec.length_mm
    }
}
