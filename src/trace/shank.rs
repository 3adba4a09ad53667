//! One fastener from its place to everything that is known of its shank.

use super::body::Bodies;
use super::boxes::Box3;
use super::clip::{Axis, Piece, Scratch};
use super::core::{Stretch, runs, stretches};
use super::cover::{Crossed, nearness};
use super::{Fill, HoleIx, Run, Shank, TOUCH_MM, What, head, holding, place};
use crate::joint::Fastener;

/// Traces fasteners one after the other against the same bodies, with lists that are used again.
pub(super) struct Tracer<'a> {
    bodies: &'a Bodies,
    pieces: Vec<Piece>,
    stretches: Vec<Stretch>,
    crossed: Crossed,
    scratch: Scratch,
}

impl<'a> Tracer<'a> {
    /// A tracer against these bodies.
    pub(super) fn new(bodies: &'a Bodies) -> Self {
        Self {
            bodies,
            pieces: Vec::new(),
            stretches: Vec::new(),
            crossed: Crossed::default(),
            scratch: Scratch::default(),
        }
    }

    /// The shank of a fastener, and the holes that it goes through or names. A fastener that names no
    /// hole of the joint, or has no length or direction, is nowhere: its shank is empty.
    pub(super) fn trace(&mut self, number: usize, fastener: &Fastener) -> (Shank, Vec<(HoleIx, Fill)>) {
        let (axis, named) = place::place(fastener, &self.bodies.holes);
        let Some(axis) = axis else { return (Shank::default(), Vec::new()) };
        self.gather(&axis);
        let washers = place::washers(fastener);
        stretches(&axis, &mut self.pieces, washers, &mut self.stretches);
        let (list, flat) = (&self.bodies.list[..], &self.bodies.flat);
        let mut core = runs(&axis, &self.stretches, &self.pieces, (list, flat));
        self.cover(&axis, &mut core);
        let who = (number, fastener.spec.diameter_mm);
        let fills = self.holes(&axis, named, who, &mut core);
        let parts = (&core[..], &self.stretches[..], &self.pieces[..]);
        let shank = Shank {
            head_at: axis.head,
            toward: axis.toward,
            length_mm: axis.length,
            holding: holding::holding(&axis, &core, fastener.spec.point_mm),
            planes: holding::planes(&axis, parts, (list, flat), &mut self.scratch),
            head: head::head(&axis, washers, parts, (list, flat), &mut self.scratch),
            nut: head::nut(&axis, (fastener.spec.kind, washers), &core, list),
            core,
        };
        (shank, fills)
    }

    /// The stretches of the axis in every body.
    fn gather(&mut self, axis: &Axis) {
        self.pieces.clear();
        let window = Box3::around(axis.head, axis.at(axis.length), TOUCH_MM);
        let (flat, scratch, pieces) = (&self.bodies.flat, &mut self.scratch, &mut self.pieces);
        self.bodies.index.visit(&window, |body| {
            axis.clip(flat, body as usize, scratch, pieces);
            true
        });
    }

    /// Cover of bearing runs, and which runs lie along a face.
    fn cover(&mut self, axis: &Axis, core: &mut [Run]) {
        let flat = &self.bodies.flat;
        for run in core {
            let Some(body) = run.body else { continue };
            self.crossed.gather(axis, body.0, &self.pieces, flat);
            let near = nearness(axis, (run.from_mm, run.to_mm), body.0, &self.crossed, flat);
            run.along_a_face = near.is_along_a_face;
            run.cover_mm = (run.what == What::Bearing).then_some(near.cover_mm);
        }
    }

    /// Marks the holes that the runs in steel go through, and tells how the shank stands in them and in
    /// the hole that the fastener names.
    fn holes(
        &self,
        axis: &Axis,
        named: Option<HoleIx>,
        who: (usize, f64),
        core: &mut [Run],
    ) -> Vec<(HoleIx, Fill)> {
        let holes = &self.bodies.holes;
        let mut through: Vec<HoleIx> = named.into_iter().collect();
        for run in core.iter_mut().filter(|it| it.what == What::Steel) {
            run.hole = holes.on_run(axis, run);
            // A named hole whose plate the shank is in is gone through, however it is turned.
            let in_named = named.filter(|it| run.hole.is_none() && run.body == Some(holes.own[it.0].body));
            run.hole = run.hole.or(in_named);
            through.extend(run.hole.filter(|it| !through.contains(it)));
        }
        through.into_iter().map(|it| (it, holes.fill(it, axis, who))).collect()
    }
}
