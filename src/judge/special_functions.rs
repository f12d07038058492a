//! The functions behind the tests and intervals: beta, gamma and normal distribution.
//!
//! Everything here stands on `libm`, which is the same code on every machine. The last
//! digit of what the standard library or a crate built on it gives depends on processor and
//! C library, and a result that is worked out again elsewhere must be the same byte for
//! byte.

use std::f64::consts::{FRAC_1_SQRT_2, TAU};

/// Far more steps than any series or fraction here needs, so that all of them end.
const MOST_STEPS: u32 = 200_000;
/// Two steps that differ by less are the same.
const SAME: f64 = 1e-16;

/// The logarithm of n over k: in how many ways k of n can be chosen.
pub fn ln_choose(n: u64, k: u64) -> f64 {
    let ln_factorial = |n: u64| libm::lgamma(n as f64 + 1.0);
    ln_factorial(n) - ln_factorial(k) - ln_factorial(n - k)
}

/// The share of a beta distribution at or below `x`: the regularised incomplete beta
/// function I(x; a, b), by its continued fraction (DLMF, 8.17.22), which converges fast on
/// that side of the mean from which it is taken here.
pub fn beta_below(x: f64, a: f64, b: f64) -> f64 {
    if x <= 0.0 {
        0.0
    } else if x >= 1.0 {
        1.0
    } else if x < (a + 1.0) / (a + b + 2.0) {
        beta_front(x, a, b) / a * beta_fraction(x, a, b)
    } else {
        1.0 - beta_front(x, a, b) / b * beta_fraction(1.0 - x, b, a)
    }
}

/// xᵃ(1 − x)ᵇ/B(a, b).
fn beta_front(x: f64, a: f64, b: f64) -> f64 {
    let ln_beta = libm::lgamma(a) + libm::lgamma(b) - libm::lgamma(a + b);
    libm::exp(a * libm::log(x) + b * libm::log1p(-x) - ln_beta)
}

fn beta_fraction(x: f64, a: f64, b: f64) -> f64 {
    fraction(1.0, |step| {
        let m = f64::from(step / 2);
        let numerator = if step % 2 == 0 {
            m * (b - m) * x / ((a + 2.0 * m - 1.0) * (a + 2.0 * m))
        } else {
            -(a + m) * (a + b + m) * x / ((a + 2.0 * m) * (a + 2.0 * m + 1.0))
        };
        [numerator, 1.0]
    })
    .recip()
}

/// The value of b₀ + a₁/(b₁ + a₂/(b₂ + …)), where `terms` gives a and b of a step (Lentz's
/// method as changed by Thompson and Barnett; from memory, and checked by what it gives).
fn fraction(first: f64, terms: impl Fn(u32) -> [f64; 2]) -> f64 {
    const TINY: f64 = 1e-300;
    let apart = |x: f64| if x.abs() < TINY { TINY } else { x };
    let (mut value, mut above, mut below) = (apart(first), apart(first), 0.0);
    for step in 1..MOST_STEPS {
        let [a, b] = terms(step);
        below = apart(b + a * below).recip();
        above = apart(b + a / above);
        let change = above * below;
        value *= change;
        if (change - 1.0).abs() <= SAME {
            break;
        }
    }
    value
}

/// The point at or below which the share `p` of a beta distribution lies: Newton's method,
/// kept between bounds that close in.
pub fn beta_quantile(p: f64, a: f64, b: f64) -> f64 {
    let (mut low, mut high) = (0.0, 1.0);
    let mut x = a / (a + b);
    for _ in 0..200 {
        let excess = beta_below(x, a, b) - p;
        if excess > 0.0 {
            high = x;
        } else {
            low = x;
        }
        let slope = beta_front(x, a, b) / (x * (1.0 - x));
        let step = x - excess / slope;
        let next = if step > low && step < high {
            step
        } else {
            f64::midpoint(low, high)
        };
        let is_there = (next - x).abs() <= SAME * x;
        x = next;
        if is_there || low >= high {
            break;
        }
    }
    x
}

/// The probability that a ratio of two estimates of one variance is larger than `ratio`
/// (the F-distribution), with the degrees of freedom of the one above and the one below.
pub fn f_above(ratio: f64, above: f64, below: f64) -> f64 {
    if ratio <= 0.0 {
        return 1.0;
    }
    beta_below(below / (below + above * ratio), below / 2.0, above / 2.0)
}

/// The probability that a χ²-distributed variable with `dof` degrees of freedom is larger
/// than `x`: the regularised incomplete gamma function Q(dof/2, x/2), by the series DLMF
/// 8.11.4 below the mean and the continued fraction 8.9.2 above it.
pub fn chi_squared_above(x: f64, dof: f64) -> f64 {
    let (a, x) = (dof / 2.0, x / 2.0);
    if x <= 0.0 {
        return 1.0;
    }
    let front = libm::exp(a * libm::log(x) - x - libm::lgamma(a));
    if x < a + 1.0 {
        let (mut sum, mut term) = (1.0 / a, 1.0 / a);
        for step in 1..MOST_STEPS {
            term *= x / (a + f64::from(step));
            sum += term;
            if term <= SAME * sum {
                break;
            }
        }
        return 1.0 - front * sum;
    }
    // Γ(a, x) = e⁻ˣ xᵃ / (x + 1 − a − 1(1 − a)/(x + 3 − a − 2(2 − a)/(x + 5 − a − …)))
    let below = fraction(x + 1.0 - a, |step| {
        let n = f64::from(step);
        [-n * (n - a), x + 2.0 * n + 1.0 - a]
    });
    front / below
}

/// The probability that of `n` throws of a fair coin at most `k` are heads.
pub fn coin_at_most(k: u64, n: u64) -> f64 {
    if k >= n {
        return 1.0;
    }
    beta_below(0.5, (n - k) as f64, k as f64 + 1.0)
}

/// The normal distribution function; libm's complementary error function is good to
/// the last place or two.
pub fn normal_below(x: f64) -> f64 {
    0.5 * libm::erfc(-x * FRAC_1_SQRT_2)
}

/// The density of the normal distribution.
pub fn normal_density(x: f64) -> f64 {
    libm::exp(-0.5 * x * x) / TAU.sqrt()
}

/// The point below which a share `p` ≥ ½ of the normal distribution lies. Newton's method
/// on what lies above, from the middle: that is convex, so no step overshoots.
pub fn normal_quantile(p: f64) -> f64 {
    let above = 1.0 - p;
    let mut z = 0.0;
    for _ in 0..200 {
        let step = (normal_below(-z) - above) / normal_density(z);
        z += step;
        if step.abs() <= SAME * z {
            break;
        }
    }
    z
}

/// The density of the t-distribution with `dof` degrees of freedom.
pub fn t_density(t: f64, dof: f64) -> f64 {
    let half = f64::midpoint(dof, 1.0);
    let front = libm::exp(libm::lgamma(half) - libm::lgamma(dof / 2.0));
    front / (dof * std::f64::consts::PI).sqrt() * libm::exp(-half * libm::log1p(t * t / dof))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn is_close(found: f64, wanted: f64, relative: f64) {
        assert!(
            (found - wanted).abs() <= relative * wanted.abs(),
            "{found:e}, not {wanted:e}"
        );
    }

    /// What has a closed form, worked out by hand.
    #[test]
    fn closed_forms() {
        // I(x; a, 1) = xᵃ and I(x; 1, b) = 1 − (1 − x)ᵇ.
        for x in [0.001, 0.3, 0.5, 0.77, 0.999] {
            is_close(beta_below(x, 3.0, 1.0), x * x * x, 1e-14);
            is_close(beta_below(x, 1.0, 2.0), x * (2.0 - x), 1e-14);
        }
        // I(x; 2, 2) = 3x² − 2x³; the median of a symmetric one is ½.
        is_close(beta_below(0.25, 2.0, 2.0), 0.15625, 1e-14);
        is_close(beta_quantile(0.5, 7.0, 7.0), 0.5, 1e-14);
        is_close(beta_quantile(0.008, 3.0, 1.0), 0.2, 1e-14);
        // However small it is: 10⁻⁶ squared.
        is_close(beta_quantile(1e-12, 2.0, 1.0), 1e-6, 1e-13);
        assert_eq!(
            [beta_below(0.0, 2.0, 2.0), beta_below(1.0, 2.0, 2.0)],
            [0.0, 1.0]
        );
        // χ² of two degrees of freedom: e^(−x/2); of four: e^(−x/2)(1 + x/2).
        is_close(chi_squared_above(0.5, 2.0), libm::exp(-0.25), 1e-15);
        is_close(chi_squared_above(40.0, 2.0), libm::exp(-20.0), 1e-14);
        is_close(chi_squared_above(9.0, 4.0), 5.5 * libm::exp(-4.5), 1e-14);
        assert_eq!(chi_squared_above(0.0, 4.0), 1.0);
        // F of two and two degrees of freedom: 1/(1 + R).
        is_close(f_above(3.0, 2.0, 2.0), 0.25, 1e-15);
        assert_eq!(f_above(0.0, 2.0, 2.0), 1.0);
        // Of ten throws at most two: (1 + 10 + 45)/1024.
        is_close(coin_at_most(2, 10), 56.0 / 1024.0, 1e-14);
        assert_eq!([coin_at_most(3, 3), coin_at_most(0, 0)], [1.0, 1.0]);
        is_close(coin_at_most(0, 40), 0.5f64.powi(40), 1e-13);
        is_close(ln_choose(52, 5), 2_598_960f64.ln(), 1e-14);
        // Of one degree of freedom: 1/(π(1 + t²)).
        is_close(
            t_density(2.0, 1.0),
            1.0 / (5.0 * std::f64::consts::PI),
            1e-14,
        );
    }

    /// Abramowitz and Stegun, table 26.1 (from memory, and well known): Φ(1) =
    /// 0.841344746068543, Φ(2) = 0.977249868051821; the upper 2.5 % point is
    /// 1.959963984540054, the upper 0.5 % point 2.575829303548901.
    #[test]
    fn the_normal_distribution_is_the_published_one() {
        is_close(normal_below(1.0), 0.841_344_746_068_543, 1e-14);
        is_close(normal_below(2.0), 0.977_249_868_051_821, 1e-14);
        is_close(normal_quantile(0.975), 1.959_963_984_540_054, 1e-15);
        is_close(normal_quantile(0.995), 2.575_829_303_548_901, 1e-15);
        assert_eq!(normal_quantile(0.5), 0.0);
    }

    // The digits are kept as they were printed.
    #[allow(clippy::excessive_precision)]
    /// Held against an independent computation with 40 digits (mpmath 1.3.0), over the sizes
    /// that a job can have.
    #[test]
    fn agrees_with_forty_digits() {
        for (x, a, b, wanted) in [
            (0.2, 0.5, 0.5, 0.295_167_235_300_866_55),
            (0.2, 0.5, 1.5, 0.549_815_144_247_899_1),
            (0.016, 0.5, 30.0, 0.672_748_348_399_368_6),
            (0.8, 2.0, 0.5, 0.373_900_966_300_058_9),
            (0.571, 2.0, 1.5, 0.478_347_981_929_442_5),
            (0.062, 2.0, 30.0, 0.580_771_128_060_536_2),
            (0.189, 7.0, 30.0, 0.533_680_509_986_756_3),
            (0.2, 7.0, 30.0, 0.599_308_321_773_859),
            (0.005, 7.0, 1200.0, 0.398_527_548_212_947),
            (0.9, 99.5, 0.5, 4.802_226_943_133_308e-6),
            (0.768, 99.5, 30.0, 0.481_473_630_602_216_13),
            (0.076, 99.5, 1200.0, 0.480_986_911_275_627_85),
            (0.999, 1200.0, 0.5, 0.121_280_920_211_978_42),
            (0.9, 1200.0, 30.0, 5.036_745_881_096_282e-26),
            (0.2, 1200.0, 1200.0, 3.533_913_349_114_981e-235),
        ] {
            is_close(beta_below(x, a, b), wanted, 1e-11);
            if wanted > 1e-3 {
                is_close(beta_quantile(wanted, a, b), x, 1e-11);
            }
        }
        for (x, dof, wanted) in [
            (0.001, 1.0, 0.974_772_879_369_960_4),
            (3.0, 1.0, 0.083_264_516_663_550_4),
            (40.0, 1.0, 2.539_628_589_470_865e-10),
            (3.0, 3.0, 0.391_625_176_271_088_96),
            (1250.0, 3.0, 1.039_180_283_167_093_8e-270),
            (40.0, 30.0, 0.104_864_281_107_984_67),
            (40.0, 99.5, 0.999_999_984_256_739_5),
            (1250.0, 1200.0, 0.153_783_031_088_086_5),
        ] {
            is_close(chi_squared_above(x, dof), wanted, 1e-11);
        }
        for (ratio, above, below, wanted) in [
            (2.3, 1.0, 1.0, 0.371_111_982_317_186),
            (0.5, 3.0, 12.0, 0.689_269_363_861_651_6),
            (1.7, 40.0, 9.0, 0.201_231_453_684_634_62),
            (4.0, 5.0, 1000.0, 0.001_343_611_389_722_978_2),
        ] {
            is_close(f_above(ratio, above, below), wanted, 1e-12);
        }
        for (dof, t, wanted) in [
            (1.5, 0.3, 0.316_799_429_461_139_6),
            (7.0, 2.0, 0.063_135_337_302_661_97),
            (99.5, 15.0, 6.337_091_347_228_072e-27),
            (1200.0, 2.0, 0.054_069_511_124_152_06),
        ] {
            is_close(t_density(t, dof), wanted, 1e-12);
        }
        is_close(coin_at_most(180, 400), 0.025_520_111_564_573_993, 1e-12);
        is_close(coin_at_most(2400, 5000), 0.002_441_824_868_758_759, 1e-12);
        is_close(normal_quantile(0.7), 0.524_400_512_708_040_8, 1e-15);
        is_close(normal_quantile(0.999), 3.090_232_306_167_813_5, 1e-13);
    }
}
