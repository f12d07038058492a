//! What a sum of errors comes to of which the largest are bounds: ±a says that the error is
//! somewhere within a, and no more (JCGM 100:2008, 4.3.7). A bound is never expanded beyond
//! what it can be: ±a alone comes to 0.95 a (JCGM 101; EA-4/02, S9, has k = 1.65).

use super::special_functions::{normal_below, normal_density};
use super::t_distribution::coverage_factor;

/// An error of normal parts and the two largest bounds among them.
#[derive(Debug, Clone, Copy)]
pub struct Sum {
    /// The standard deviation of all that counts as normal.
    normal: f64,
    /// The half-widths of the two largest rectangular errors, the larger first; 0 where
    /// there is none.
    bounds: [f64; 2],
}

/// A bound of less than this share of the rest counts as normal: the half-width of the sum
/// is the same to nine digits, and differences of nearly equal figures are avoided.
const SMALL: f64 = 0.01;

impl Sum {
    /// The sum of a normal error of standard deviation `normal` and rectangular ones of
    /// these half-widths. The two largest count as what they are, the others as normal.
    pub fn of(normal: f64, mut half_widths: Vec<f64>) -> Self {
        half_widths.sort_by(|a, b| b.total_cmp(a));
        let mut normal = normal;
        let mut add = |half_width: f64| normal = libm::hypot(normal, half_width / 3f64.sqrt());
        half_widths.iter().skip(2).copied().for_each(&mut add);
        let mut half_widths = half_widths.into_iter();
        let [mut a, mut b] = [(); 2].map(|()| half_widths.next().unwrap_or(0.0));
        let rest = a.max(normal);
        for bound in [&mut b, &mut a] {
            if *bound < SMALL * rest {
                normal = libm::hypot(normal, *bound / 3f64.sqrt());
                *bound = 0.0;
            }
        }
        Self {
            normal,
            bounds: [a, b],
        }
    }

    /// Its standard deviation.
    pub fn deviation(&self) -> f64 {
        let squares = self.bounds.map(|bound| bound * bound / 3.0);
        (self.normal * self.normal + squares[0] + squares[1]).sqrt()
    }

    /// The half-width that holds the share `coverage` of it.
    pub fn half_width(&self, coverage: f64) -> f64 {
        let [a, b] = self.bounds;
        if a == 0.0 {
            return coverage_factor(coverage, f64::INFINITY) * self.normal;
        }
        if self.normal == 0.0 {
            return between_bounds(a, b, coverage);
        }
        // Newton's method from the middle: beyond it the distribution function is concave,
        // so every step falls short of the quantile and none overshoots.
        let wanted = f64::midpoint(1.0, coverage);
        let mut half_width = 0.0;
        for _ in 0..200 {
            let step = (wanted - self.below(half_width)) / self.density(half_width);
            half_width += step;
            if step.abs() <= 1e-14 * half_width {
                break;
            }
        }
        half_width
    }

    /// The probability that the error is below `x`. Φ(y/σ), averaged over each bound: a
    /// difference of its integral, or the second difference of its second integral.
    fn below(&self, x: f64) -> f64 {
        let [a, b] = self.bounds;
        if b == 0.0 {
            return (self.first(x + a) - self.first(x - a)) / (2.0 * a);
        }
        let over = |y: f64| self.second(y + b) - self.second(y - b);
        (over(x + a) - over(x - a)) / (4.0 * a * b)
    }

    fn density(&self, x: f64) -> f64 {
        let [a, b] = self.bounds;
        if b == 0.0 {
            let within = normal_below((x + a) / self.normal) - normal_below((x - a) / self.normal);
            return within / (2.0 * a);
        }
        let over = |y: f64| self.first(y + b) - self.first(y - b);
        (over(x + a) - over(x - a)) / (4.0 * a * b)
    }

    /// ∫Φ(y/σ): y·Φ(y/σ) + σ·φ(y/σ).
    fn first(&self, y: f64) -> f64 {
        let score = y / self.normal;
        y * normal_below(score) + self.normal * normal_density(score)
    }

    /// ∫∫Φ(y/σ): ((y² + σ²)·Φ(y/σ) + y·σ·φ(y/σ))/2.
    fn second(&self, y: f64) -> f64 {
        let score = y / self.normal;
        let squares = y * y + self.normal * self.normal;
        0.5 * (squares * normal_below(score) + y * self.normal * normal_density(score))
    }
}

/// Of one or two bounds and nothing else: a rectangle, or a trapezoid.
fn between_bounds(a: f64, b: f64, coverage: f64) -> f64 {
    let tail = (1.0 - coverage) / 2.0;
    let on_the_slope = a + b - (8.0 * a * b * tail).sqrt();
    if b > 0.0 && on_the_slope >= a - b {
        on_the_slope
    } else {
        coverage * a
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn half_width(normal: f64, bounds: &[f64]) -> f64 {
        Sum::of(normal, bounds.to_vec()).half_width(0.95)
    }

    /// JCGM 101: a rectangular error alone has 95 % within 0.95 a. Of two equal ones, a
    /// triangle on ±2a, (1 − √0.05)·2a; of a and a/2, by hand, 1.5a − √(0.1)·a.
    #[test]
    fn bounds_alone() {
        assert!((half_width(0.0, &[1.0]) - 0.95).abs() < 1e-12);
        assert!((half_width(0.0, &[1.0, 1.0]) - 2.0 * (1.0 - 0.05f64.sqrt())).abs() < 1e-12);
        assert!((half_width(0.0, &[0.5, 1.0]) - (1.5 - 0.1f64.sqrt())).abs() < 1e-12);
        assert!((half_width(0.0, &[1.0, 0.04]) - 0.95).abs() < 1e-12);
    }

    /// A rectangular error of ±a has the variance a²/3 (JCGM 100:2008, 4.3.7), and variances
    /// add up: 0.3² + (1² + 0.6²)/3 = 0.543 333.
    #[test]
    fn variances_add_up() {
        let sum = Sum::of(0.3, vec![1.0, 0.6]);
        assert!((sum.deviation() - 0.543_333_333_f64.sqrt()).abs() < 1e-9);
    }

    /// EA-4/02, supplement S9 (from memory; the arithmetic redone): a meter's step of
    /// ±0.05 V beside u = 0.001 V: k = 1.65 and U = 0.05 V, not 2 · 0.030 V.
    #[test]
    fn a_dominant_bound_as_in_ea_4_02_s9() {
        let sum = Sum::of(0.001, vec![0.05]);
        let u = sum.half_width(0.95);
        assert!((u / sum.deviation() - 1.65).abs() < 0.01, "{u}");
        assert!((u - 0.0475).abs() < 1e-4);
    }

    /// Computed with SciPy, by integrating the convolutions: σ = 0.5 with a = 1; σ = 0.3
    /// with a = 1 and b = 0.6.
    #[test]
    fn bounds_and_a_normal_error() {
        assert!((half_width(0.5, &[1.0]) - NUMERIC[0]).abs() < 1e-9);
        assert!((half_width(0.3, &[1.0, 0.6]) - NUMERIC[1]).abs() < 1e-9);
    }

    const NUMERIC: [f64; 2] = [1.451_172_928_860, 1.392_618_705_280];

    /// What is as good as nothing changes nothing, and no step is seen where a bound stops
    /// to count as one.
    #[test]
    fn small_bounds_are_as_good_as_normal() {
        let z = 1.959_963_984_540_054;
        assert!((half_width(1.0, &[]) - z).abs() < 1e-15);
        assert!((half_width(1.0, &[1e-6]) - z).abs() < 1e-9);
        for (normal, other) in [(1.0, 0.3), (0.0, 1.0), (1.0, 0.0)] {
            let [below, above] =
                [0.999_999, 1.000_001].map(|x| half_width(normal, &[other, SMALL * x]));
            assert!((below / above - 1.0).abs() < 1e-7, "{normal}, {other}");
        }
    }
}
