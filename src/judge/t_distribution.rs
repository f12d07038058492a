//! Student's t-distribution, and the normal one it tends to.

use std::sync::OnceLock;

use super::special_functions::{normal_below, normal_quantile, t_density};

/// Two-sided coverage probability of an expanded uncertainty.
pub const COVERAGE: f64 = 0.95;

/// Significance level of a claimed change, two-sided.
pub const LEVEL: f64 = 0.05;

/// The coverage factor t for a two-sided coverage probability `p` and `dof`
/// degrees of freedom (JCGM 100:2008, table G.2). Degrees of freedom are cut
/// down to a whole number, at least 1 (G.4.1, note 1).
pub fn coverage_factor(p: f64, dof: f64) -> f64 {
    let dof = truncated(dof);
    // Nearly every factor asked for is one of these; each is worked out once.
    static AT_COVERAGE: [OnceLock<f64>; MANY as usize + 1] =
        [const { OnceLock::new() }; MANY as usize + 1];
    if p == COVERAGE && dof <= MANY {
        return *AT_COVERAGE[dof as usize].get_or_init(|| quantile(f64::midpoint(1.0, p), dof));
    }
    quantile(f64::midpoint(1.0, p), dof)
}

/// The point below which a share `tail` > ½ of the distribution lies, for whole
/// degrees of freedom.
fn quantile(tail: f64, dof: f64) -> f64 {
    if dof > MANY {
        return near_normal(normal_quantile(tail), dof);
    }
    // Newton's method from the middle: beyond it the distribution function is
    // concave, so every step falls short of the quantile and none overshoots.
    let mut quantile = 0.0;
    for _ in 0..200 {
        let step = (tail - cumulative(quantile, dof)) / t_density(quantile, dof);
        quantile += step;
        if step.abs() <= 1e-15 * quantile {
            break;
        }
    }
    quantile
}

/// From here on the expansion about the normal distribution is exact to the last
/// digits.
const MANY: f64 = 1e3;

/// The t quantile from the normal quantile `z` (Abramowitz and Stegun, 26.7.5; from
/// memory, and checked against the other branch in a test). Of infinitely many degrees of
/// freedom it is `z` itself.
fn near_normal(z: f64, dof: f64) -> f64 {
    let z2 = z * z;
    let first = z * (z2 + 1.0) / 4.0;
    let second = z * ((5.0 * z2 + 16.0) * z2 + 3.0) / 96.0;
    let third = z * (((3.0 * z2 + 19.0) * z2 + 17.0) * z2 - 15.0) / 384.0;
    z + (first + (second + third / dof) / dof) / dof
}

/// The probability that a t-distributed variable with `dof` degrees of freedom
/// lies at or below `x`.
pub fn cumulative(x: f64, dof: f64) -> f64 {
    let dof = truncated(dof);
    if dof.is_infinite() {
        return normal_below(x);
    }
    if dof > SEVERAL {
        return normal_below(near_normal_score(x, dof));
    }
    0.5 + 0.5 * within(x, dof)
}

/// The probability between −x and x, with the sign of x, for few whole degrees of
/// freedom: the finite series of Abramowitz and Stegun, 26.7.3 and 26.7.4, whose
/// terms are all of one sign.
fn within(x: f64, dof: f64) -> f64 {
    let angle = libm::atan(x / dof.sqrt());
    let (sin, cos) = libm::sincos(angle);
    let count = dof as u32;
    let odd = count % 2 == 1;
    let (mut sum, mut term) = (0.0, if odd { cos } else { 1.0 });
    // Odd: cos θ, 2/3 cos³ θ, 2·4/(3·5) cos⁵ θ …; even: 1, 1/2 cos² θ, 1·3/(2·4) cos⁴ θ …
    let mut power = if odd { 1 } else { 0 };
    while power + 2 <= count {
        sum += term;
        term *= cos * cos * f64::from(power + 1) / f64::from(power + 2);
        power += 2;
    }
    if odd {
        std::f64::consts::FRAC_2_PI * (angle + sin * sum)
    } else {
        sin * sum
    }
}

/// From here on the normal score below is exact to twelve digits, far into the
/// tails.
const SEVERAL: f64 = 300.0;

/// The normal score with the same probability as `t` (Hill 1970, Algorithm 395 of
/// the Communications of the ACM; from memory, and checked in a test).
fn near_normal_score(t: f64, dof: f64) -> f64 {
    let a = dof - 0.5;
    let b = 48.0 * a * a;
    let w = (a * libm::log1p(t * t / dof)).sqrt().copysign(t);
    let w2 = w * w;
    let small = ((4.0 * w2 + 33.0) * w2 + 240.0) * w2 + 855.0;
    w + w * (w2 + 3.0) / b - w * small / (10.0 * b * (b + 0.8 * w2 * w2 + 100.0))
}

/// Whole degrees of freedom: never more than there are. The hair's breadth
/// added keeps a sum that is 9 but for its last bit from becoming 8.
fn truncated(dof: f64) -> f64 {
    if dof < 1e15 {
        (dof * (1.0 + 1e-9)).floor().max(1.0)
    } else {
        f64::INFINITY
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// JCGM 100:2008, table G.2, column 95 %, to the two decimals printed there.
    #[test]
    fn agrees_with_gum_table_g2() {
        for (dof, t) in [
            (1.0, 12.71),
            (2.0, 4.30),
            (3.0, 3.18),
            (4.0, 2.78),
            (5.0, 2.57),
            (8.0, 2.31),
            (16.0, 2.12),
            (50.0, 2.01),
            (100.0, 1.98),
        ] {
            assert!((coverage_factor(0.95, dof) - t).abs() < 0.005, "{dof}");
        }
        assert!((coverage_factor(0.95, f64::INFINITY) - 1.959_963_984_540_054).abs() < 1e-12);
        assert!((coverage_factor(0.99, 16.0) - 2.92).abs() < 0.005);
    }

    /// JCGM 100:2008, table G.2, the columns of 90, 95 and 99 % for 10 degrees of freedom:
    /// one coverage asked for after another is not answered with its factor.
    #[test]
    fn each_coverage_has_its_own_factor() {
        for (coverage, t) in [(0.90, 1.81), (0.99, 3.17), (0.95, 2.23), (0.90, 1.81)] {
            assert!(
                (coverage_factor(coverage, 10.0) - t).abs() < 0.005,
                "{coverage}"
            );
        }
    }

    /// JCGM 100:2008, G.4.1, example: 18.9987 degrees of freedom are cut to 18.
    #[test]
    fn cuts_degrees_of_freedom_down() {
        assert_eq!(coverage_factor(0.95, 18.9987), coverage_factor(0.95, 18.0));
        assert_eq!(coverage_factor(0.95, 0.3), coverage_factor(0.95, 1.0));
    }

    /// The slope at 0 is the density there, and 1 has a quarter beyond it for one
    /// degree of freedom (arctan): many degrees of freedom must not cost
    /// digits near the middle.
    #[test]
    fn keeps_its_digits_at_many_degrees_of_freedom() {
        for dof in [1.0, 3.0, 50.0, 11_552.0, 2e6] {
            assert_eq!(cumulative(0.0, dof), 0.5);
            let slope = (cumulative(1e-6, dof) - cumulative(-1e-6, dof)) / 2e-6;
            let density = t_density(0.0, dof);
            assert!((slope - density).abs() < 1e-6, "{dof}: {slope}");
        }
        assert!((cumulative(1.0, 1.0) - 0.75).abs() < 1e-14);
    }

    #[test]
    fn quantile_and_cumulative_are_inverse() {
        for dof in [1.0, 2.0, 5.0, 30.0, 999.0, f64::INFINITY] {
            let t = coverage_factor(0.95, dof);
            assert!((cumulative(t, dof) - 0.975).abs() < 1e-12, "{dof}");
        }
        // Many degrees of freedom once sent the search for a quantile round for ever.
        for dof in [1001.0, 11_552.0, 5e8, 1e12] {
            let t = coverage_factor(0.95, dof);
            assert!((cumulative(t, dof) - 0.975).abs() < 1e-9, "{dof}");
        }
        let z = coverage_factor(0.95, f64::INFINITY);
        assert!((near_normal(z, 999.0) - coverage_factor(0.95, 999.0)).abs() < 1e-10);
    }
}
