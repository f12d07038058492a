//! Student's t-distribution, and the normal one it tends to.

use statrs::distribution::{Continuous, ContinuousCDF, Normal, StudentsT};

/// Two-sided coverage probability of an expanded uncertainty.
pub const COVERAGE: f64 = 0.95;

/// The coverage factor t for a two-sided coverage probability `p` and `dof`
/// degrees of freedom (JCGM 100:2008, table G.2). Degrees of freedom are cut
/// down to a whole number, at least 1 (G.4.1, note 1).
pub fn coverage_factor(p: f64, dof: f64) -> f64 {
    let tail = f64::midpoint(1.0, p);
    let dof = truncated(dof);
    if dof.is_infinite() {
        return Normal::standard().inverse_cdf(tail);
    }
    let Ok(t) = StudentsT::new(0.0, 1.0, dof) else {
        return f64::INFINITY;
    };
    // The library inverts by bisection; Newton's steps bring the last digits.
    let mut quantile = t.inverse_cdf(tail);
    for _ in 0..3 {
        quantile -= (t.cdf(quantile) - tail) / t.pdf(quantile);
    }
    quantile
}

/// The probability that a t-distributed variable with `dof` degrees of freedom
/// lies at or below `x`.
pub fn cumulative(x: f64, dof: f64) -> f64 {
    let dof = truncated(dof);
    match StudentsT::new(0.0, 1.0, dof) {
        Ok(t) if dof.is_finite() => t.cdf(x),
        // libm's complementary error function is good to the last place or two.
        _ => 0.5 * libm::erfc(-x / std::f64::consts::SQRT_2),
    }
}

/// Whole degrees of freedom: never more than there are. The hair's breadth
/// added keeps a sum that is 9 but for its last bit from becoming 8.
fn truncated(dof: f64) -> f64 {
    if dof.is_finite() && dof < 1e9 {
        (dof * (1.0 + 1e-12)).floor().max(1.0)
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

    /// JCGM 100:2008, G.4.1, example: 18.9987 degrees of freedom are cut to 18.
    #[test]
    fn cuts_degrees_of_freedom_down() {
        assert_eq!(coverage_factor(0.95, 18.9987), coverage_factor(0.95, 18.0));
        assert_eq!(coverage_factor(0.95, 0.3), coverage_factor(0.95, 1.0));
    }

    #[test]
    fn quantile_and_cumulative_are_inverse() {
        for dof in [1.0, 2.0, 5.0, 30.0, f64::INFINITY] {
            let t = coverage_factor(0.95, dof);
            assert!((cumulative(t, dof) - 0.975).abs() < 1e-12, "{dof}");
        }
    }
}
