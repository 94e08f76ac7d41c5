//! How much of a piece's bounding rectangle is not there: cut-outs, and what an outline leaves out.

use crate::body::setup::{CutOut, Piece, PlanPoint};

/// Area that is missing from a rectangle of `full_m2`, in m².
pub(crate) fn missing_m2(piece: &Piece, full_m2: f64) -> f64 {
    let cut: f64 = piece.cut_outs.iter().flatten().map(cut_out_m2).sum();
    let outline = piece.outline.as_deref().filter(|points| points.len() >= 3).map(outline_m2);
    cut + outline.map_or(0.0, |area| (full_m2 - area).max(0.0))
}

/// A round cut-out has no width of its own.
fn cut_out_m2(it: &CutOut) -> f64 {
    let mm2 = match it.width_mm {
        Some(width) => it.length_mm * width,
        None => std::f64::consts::PI * (it.length_mm / 2.0).powi(2),
    };
    mm2 / 1e6
}

/// Area of a polygon by its corners.
fn outline_m2(points: &[PlanPoint]) -> f64 {
    let next = points.iter().cycle().skip(1);
    let twice: f64 = points.iter().zip(next).map(|(a, b)| a.x_mm * b.y_mm - b.x_mm * a.y_mm).sum();
    twice.abs() / 2e6
}

#[cfg(test)]
mod tests {
    use super::*;

    fn close(found: f64, wanted: f64) {
        assert!((found - wanted).abs() < 1e-9, "{found} is not {wanted}");
    }

    #[test]
    fn rectangles_and_circles_are_cut_out() {
        let cut = |length_mm, width_mm| CutOut { purpose: None, x_mm: 0.0, y_mm: 0.0, length_mm, width_mm };
        close(cut_out_m2(&cut(500.0, Some(400.0))), 0.2);
        close(cut_out_m2(&cut(200.0, None)), std::f64::consts::PI * 0.01);
    }

    #[test]
    fn an_outline_is_measured_in_either_direction() {
        // An L: 1000 × 600 less 500 × 300.
        let corners =
            [(0.0, 0.0), (1000.0, 0.0), (1000.0, 300.0), (500.0, 300.0), (500.0, 600.0), (0.0, 600.0)];
        let mut points: Vec<PlanPoint> = corners.map(|(x_mm, y_mm)| PlanPoint { x_mm, y_mm }).into();
        close(outline_m2(&points), 0.45);
        points.reverse();
        close(outline_m2(&points), 0.45);
    }
}
