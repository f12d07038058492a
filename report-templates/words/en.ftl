### The wording of the report and of the screen, in English.
###
### One message per line or block; the program fills in `{ $name }`. Messages that
### start with `label-` are fixed words that the templates place by themselves. To
### change a wording, change it here; to add a language, copy this file and translate
### every message. Keep to the words under “Words” in DEVELOPERS.md.

## The document

title = Repair verification report { $number }: { $machine }
kind-of-report = Repair verification report
job-number = Job { $number }
head-issued = { $number }, issued { $issued }
head-issue = { $number }, issue { $issue } of { $issued }
reissued = Issue { $issue } takes the place of issue { $before }: “{ $why }”
foot-seal = seal { $start }…
date = { $day } { $month } { $year }
moment = { $date }, { $clock } UTC{ $offset }
moment-local = { $date }, { $clock }
month-1 = January
month-2 = February
month-3 = March
month-4 = April
month-5 = May
month-6 = June
month-7 = July
month-8 = August
month-9 = September
month-10 = October
month-11 = November
month-12 = December
serial = serial { $serial }
required = required
k-of-n = { $k } of { $n }
money = { $currency }{"\u00A0"}{ $amount }

## Fixed words of the templates

label-decimal = .
label-page = page
label-of = of
label-end = End of document
label-was-wrong = What was reported
label-was-done = What was done
label-still-wrong = Still wrong
label-before = Before
label-after = After
label-how-receipt = How to check this receipt
label-to-watch = What to watch for
label-next = What happens next
label-reservations = Reservations
label-not-needed = Not bought, not needed
label-also-measured = Also measured, not required
label-key-better = better
label-nothing-left = No other fault was recorded.
label-key-whisker = uncertainty (95 %)
label-key-met = meets its limit
label-key-not-met = does not
label-key-before = before
label-key-after = after
label-key-limit = limit
label-key-inside = within limit
label-limit = Limit
label-result = Result
label-date = Date
label-about = The job
label-complaint = The complaint in full
label-measures = All measures
label-glance = Before and after, at a glance
label-measures-note = Values are given with their expanded uncertainty (about 95 % coverage). The change is retest minus baseline. Below a result is the probability that the true value is within the limit; below a count, the 95 % confidence interval of the pass rate.
label-measure = Measure
label-baseline = Baseline
label-retest = Retest
label-change = Change
label-positions = Position by position

label-texts = Described in words
label-conditions = Conditions, side by side
label-condition = Condition
label-window = Counts as alike
label-comparison = Retest against baseline
label-instruments = Instruments
label-instrument = Instrument
label-kind = Kind, serial number
label-errors = Stated errors
label-calibrated = Calibrated
label-work = The work
label-interventions = What was done
label-attribution = What the change is credited to
label-supplies = Parts and fluids
label-quantity = Quantity
label-item = Item
label-amount = Amount
label-ruled-out = Ruled out
label-also-found = Also found
label-run-in = Between work and retest
label-cost = Cost
label-photos = Photos
label-rule = How this was judged
label-budgets = Where the uncertainties come from
label-budgets-note = Standard uncertainties in the unit of the measure, each with its share of the total in percent. A change has a row of its own where its two readings are not independent. u: combined; ν: degrees of freedom of the part estimated from repeats (∞: none was); U: expanded, 95 % coverage. A certificate's U is never expanded to less than it says, nor a bound beyond itself. The U of a change includes half a step of the display.
label-budgets-positions = Of several positions, only the one with the largest uncertainty is shown.
label-reading = Reading
label-components = Components
label-cannot-tell = What the tests cannot tell
label-cautions = Before anyone repeats these tests
label-evidence = How to check this report
label-inputs = Input files
label-file = File
label-digest = SHA-256
label-size = Size
label-place = In this PDF

## The customer's page

mark-verified = Verified
mark-not-verified = Tested, not verified
mark-broken = The sealed record was changed
mark-undecided = Undecided
headline-verified = { $count ->
    [one] The required test now meets its limit.
    [2] Both required tests now meet their limits.
   *[other] All { $count } required tests now meet their limits.
}
headline-not-verified = { $count ->
    [one] One required test does not meet its limit.
    [2] Two required tests do not meet their limits.
    [3] Three required tests do not meet their limits.
   *[other] { $count } required tests do not meet their limits.
}
headline-not-improved = { $count ->
    [one] One required improvement was not reached.
    [2] Two required improvements were not reached.
   *[other] { $count } required improvements were not reached.
}
headline-not-shown = { $count ->
    [2] Two required tests do not meet their limits or the required improvement.
   *[other] { $count } required tests do not meet their limits or the required improvement.
}
headline-verified-conditional = { $count ->
    [one] The required test now meets its limit, with a reservation.
    [2] Both required tests now meet their limits, with a reservation.
   *[other] All { $count } required tests now meet their limits, with a reservation.
}
headline-undecided-unknown = It cannot be shown that the two runs were alike, so the result is still open.
headline-undecided-harder = The retest was made under more severe conditions, so the result is still open.
headline-broken = Do not rely on this report until that is explained.
headline-undecided = These tests do not give a clear result.
headline-undecided-worse = A required measure got worse, so the result is still open.
headline-undecided-conditions = The retest was not a fair comparison, so the result is still open.
weakest-never = The limits were not put on record under seal before the work.
weakest-late = The limits were put on record under seal only after the work had started.
weakest-changed = The sealed record was changed before the work.
weakest-changed-late = The sealed record was changed after the work had started.
weakest-retest-changed = The readings after the work were changed once they were sealed.
weakest-retest = The readings after the work are not sealed.
weakest-clock = The time of the seal was set by hand.
weakest-no-conditions = No conditions were compared.
lead-figure = { $name }: { $before } before the work, { $after } after it.
settle-conditions = A retest under conditions like those of the baseline would settle it.
settle-worse = First find out why it got worse.
settle-measurement = A more accurate instrument, or more repeats, could settle it.
settle-instrument = A more accurate instrument could settle it; more repeats could not.
settle-variation = A record of how much this machine varies from one run to the next could settle it.
lead-matched = The conditions that matter were alike in both runs.
lead-harder = The retest was made under more severe conditions ({ $names }), so the comparison errs on the safe side.
more-items = { $count ->
    [one] One more, on the following pages.
   *[other] { $count } more, on the following pages.
}
more-figures = { $count ->
    [one] One more test is in the table of all measures.
   *[other] { $count } more tests are in the table of all measures.
}
also-repaired = Also found and repaired: { $what }
come-back = A follow-up test is due on or about { $day }: arrange it with the shop.
follow-up-was = A follow-up was planned for { $day }; that day had passed when this report was made.
call = Questions or trouble: { $call }.
not-needed-estimate = { $what } (would have cost { $amount }, as estimated by { $by })
verdict-applies-to = The verdict applies to this machine at this retest only. It does not say how long the repair will last.
figure-at = { $name }: { $before } → { $after }
repeats = each reading: { $before } before; { $after } after
repeats-before = each reading before: { $before }
repeats-after = each reading after: { $after }
fact-before = Measured before the work
fact-after = Measured after it
fact-serial = Serial number
fact-order = order or claim { $order }
fact-not-seen = No witness named
fact-seen = Witness: { $names }
work-warranty = Warranty of the work
run-place = Place
part-price = { $quantity } · { $price }
calibration-certificate = certificate { $number }
receipt-must-show = Your receipt must show this fingerprint:
behind-in-report = { $text }: in the report.
behind-cannot-tell = What these tests can never tell
condition-figures = { $name } ({ $before } → { $after })
file-baseline = the readings before the work ({ $file })
file-retest = the readings after the work ({ $file })
file-limits = the limits ({ $file })
file-job = machine, complaint and instruments ({ $file })
file-work = the work done ({ $file })
more-reservations = { $count ->
    [one] One more reservation
   *[other] { $count } more reservations
}
holds-unless = If this machine can vary by itself by more than { $amount } from one test to the next, the result for “{ $name }” may not hold: how much it varies was not measured.
holds-unless-share = If this machine can vary by itself by more than { $amount } ({ $share } of the figure before) from one test to the next, the result for “{ $name }” may not hold: how much it varies was not measured.
holds-not-counted = How much this machine varies by itself from one test to the next is not known, and is not counted in the result for “{ $name }”.
signs-for-shop = For the shop: { $name }
signs-for-customer = Received a copy: { $name }
positions-inside = { $name }, { $many } within the limit
positions-each = each { $limit }
smoke-opacity-over = { $name }, opacity over { $path }
smoke-opacity = { $name }, opacity
smoke-absorption = { $name }, light absorption k
smoke-clear = { $name }, time until clear
strip-alt = { $name }: before { $before }, after { $after }, limit { $limit }.

## Reasons

reason-fails = “{ $name }” does not meet its limit.
reason-fails-at = “{ $name }” does not meet its limit: { $at }.
reason-inconclusive = “{ $name }” is inconclusive: its distance from the limit is smaller than the measurement uncertainty.
reason-too-coarse = “{ $name }” is inconclusive: its limits are closer together than twice the measurement uncertainty, so the instrument is too coarse for them.
reason-variation-not-known = “{ $name }” improved by as much as required, but a variation from run to run as small as the measurement uncertainty would undo that, and how much this machine varies is not known.
reason-improvement-absent = “{ $name }” did not improve by as much as required.
reason-improvement-absent-worse = “{ $name }” got worse, although an improvement was required.
reason-no-improvement-shown = The improvement required of “{ $name }” is not shown: no change is detectable, or its percentage cannot be worked out.
reason-not-taken = “{ $name }” was not read in the retest: { $why }.
reason-not-taken-at = “{ $name }” was not read in the retest at { $at }: { $why }.
reason-got-worse = “{ $name }” got worse, and is not clearly within its limit.
reason-condition-easier = The retest was made under easier conditions than the baseline: { $names }. A better result may come from that.
reason-condition-unknown = Not comparable: { $names } (not recorded in both runs, not measured accurately enough, or different with an unknown effect).
reason-condition-harder = The retest was made under more severe conditions than the baseline: { $names }. Failing there shows nothing.
reason-not-cold = The machine was not cold at the retest: { $name } was more than 7 K (12.6 °F) above the ambient temperature.
reason-nothing-required = No test was marked as required, so there is nothing to verify.

## Reservations

look-again = Look again before you seal this:
reservation-conditional-pass = “{ $name }” meets its limit by less than the measurement uncertainty: a conditional pass.
reservation-fault-not-shown = The required tests met their limits before the work too, and none improved: these tests did not show the fault.
reservation-other-outside = “{ $name }” does not meet its limit; the verdict does not depend on it.
reservation-other-worse = “{ $name }” got worse; the verdict does not depend on it.
reservation-worse-within-limit = “{ $name }” got worse, and is still clearly within its limit.
reservation-not-as-it-should = “{ $name }” meets what it must, but not what it should besides (its advisory limit).
reservation-variation-not-known = “{ $name }” improved, but a small variation of the machine from run to run would undo that, and how much it varies is not known.
reservation-scatters-differ = The repeats of “{ $name }” scatter differently before and after the work, so each run's scatter is used for that run alone.
reservation-scatter-exceeds-stated = The repeats of “{ $name }” scatter by more than the variation from run to run that was stated; both are counted.
reservation-stands-out = One repeat of “{ $name }” stands out from the others. It is counted like them; check whether it was written down correctly.
reservation-decimal-point = One reading of “{ $name }” is about ten times, or a tenth of, the others. It is counted; check the decimal point.
reservation-implausible-condition = “{ $name }” is outside the range in which a machine can be. Check the figure and its unit.
reservation-other-condition = The runs differ, or cannot be compared, in a condition that was not required: { $name }.
reservation-no-conditions = No conditions were chosen for comparison, so this report cannot say whether the two runs were alike.
reservation-uncertainty-not-counted = By the decision rule “simple”, uncertainty is not counted at the limits: near a limit, a value passes or fails by chance.
reservation-calibration-overdue = The instrument “{ $instrument }” was used after its calibration was due on { $due }.
reservation-baseline-not-cold = The machine was not fully cold at the baseline: { $name } was more than 7 K (12.6 °F) above the ambient temperature. A colder start would have been more severe.
reservation-retest-not-cold = The machine was not fully cold at the retest: { $name } was more than 7 K (12.6 °F) above the ambient temperature. A warm machine starts more easily.
reservation-short-soak = The machine stood for less than 8 hours before the retest.
reservation-scatter-not-known = In the change of “{ $name }” the instrument's common error is left out, and no repeats show the scatter of the readings: the uncertainty given is a minimum.
reservation-battery-not-recorded = Neither the battery voltage nor the cranking speed was recorded in both runs. A better battery alone shortens “{ $name }”.
reservation-condition-helped = Close enough to count as alike, but a little easier at the retest: { $name }. Part of a better result may come from that.
reservation-calibrated-later = The instrument “{ $instrument }” was calibrated after it was used, so its certificate does not cover these readings.
capture-after-work-started = The photo “{ $caption }” belongs to the baseline, but its camera time is { $taken }, after the work started ({ $against }).
capture-before-work-ended = The photo “{ $caption }” belongs to the retest, but its camera time is { $taken }, before the work was finished ({ $against }).
capture-days-away = The photo “{ $caption }” was taken days away from its run: its camera time is { $taken }, the { $stage } was on { $against }.
capture-no-zone = The camera gives no time zone, so a day's difference was allowed.
capture-several = { $count } photos have camera times that do not fit their run; “How this was judged” lists each with both times.
issued-before-retest = The retest is dated later than this report.
reservation-meter-backwards = The machine's meter reads less at the retest than at the baseline.
reservation-meter-behind-run-in = The machine's meter rose by less than the recorded run-in.
reservation-repeats-differ = “{ $name }” was not read as often as planned before the work; stopping early or carrying on can favour a result.
reservation-not-taken-before = “{ $name }” was not read, or not everywhere, before the work: whether it meets its limit now is shown, a change is not.
reservation-also = The same holds for: { $names }.
idle-limits = So wide that nothing could have missed it: { $names }. That it was met shows nothing.
reservation-attempts-differ = “{ $name }” was attempted more often in one run than in the other; stopping early or carrying on can favour a result.
reservation-graded-by-others = One person graded before the work and another after it: two people may grade the same thing differently.
left-out-over = { $at } (over { $read } of { $of } { $many })
reservation-left-out-after = In the retest, “{ $name }” leaves out what was not read: { $after }.
reservation-left-out-before = In the baseline, “{ $name }” leaves out what was not read: { $before }.
reservation-left-out-both = “{ $name }” leaves out what was not read: in the baseline { $before }; in the retest { $after }.
reservation-worse-at = “{ $name }” is worse than before at { $at }, though all together show no change for the worse.

## Limits, zones, changes

limit-at-most = at most { $max }
limit-at-least = at least { $min }
result-not-relied-on = not relied on
result-not-alike = within its limit, but not under like conditions
limit-all = all { $count }
limit-exactly = exactly { $value }
limit-between = { $min } to { $max }
limit-and = {" "}and{" "}
limit-lower-by = at least { $amount } lower than before
limit-higher-by = at least { $amount } higher than before
limit-passes = at least { $count } pass
pressure-gauge = Gauge pressure
pressure-absolute = Absolute pressure
pressure-difference = Pressure difference
limit-grade = { $least } or better
limit-list-empty = nothing stored
limit-list-none-new = nothing new
limit-none = none
limit-source = { $limit } ({ $source })
limit-within-percent = { $range } (within { $percent })
limit-came-to = { $formula } = { $figure }
limit-came-to-each = { $formula } (before the work { $before }, after it { $after })
limit-each-run = { $before } before the work, { $after } after it
limit-and-before = { $limit }; before the work { $before }
limit-should = { $limit } (advisory: { $should })
limit-as-printed = { $limit } (as the manual prints it: “{ $printed }”)
advisory = advisory limit: { $outcome }
gain = required improvement: { $outcome }
change-improved = improved
change-apparent = better, but conditions not alike
change-none = no detectable change
change-worsened = worsened
change-common = common error left out
change-holds = holds unless two runs differ by more than ±{ $amount }
change-holds-share = holds unless two runs differ by more than ±{ $amount } ({ $share })
limit-holds = holds unless two runs differ by more than ±{ $amount }
change-paired = { $pairs } pairs, signed-rank test p { $p }
change-paired-few = { $pairs } pairs, too few for a rank test
change-inside = changed, within its limits
change-outside-inside = was outside its limits, now inside
change-came-inside = moved inside its limits, but not clearly
change-went-outside = moved outside its limits, but not clearly
change-neither = changed, but still outside its limits
change-some-moved = some changed, none clearly for better or worse
change-too-few-attempts = too few attempts to show a change
change-too-few-positions = too few of them to show a change
change-other-positions = not compared: not over the same positions
change-too-few-events = too few counted to show a change
step-better = better than before
step-same = no different from before
step-worse = worse than before
rate = { $rate } per { $per }
rate-name = { $name } (per { $per })
rate-read = { $rate } ({ $count } in { $over })
rate-counted = { $count } in { $over }
rate-interval = 95 % interval after: { $low } to { $high } per { $per }; exact test of equal rates, p { $p }
list-stored = { $count ->
    [0] nothing stored
    [one] 1 entry
   *[other] { $count } entries
}
list-empty = nothing stored
list-result = { $gone } gone, { $still } still there, { $new } new
list-gone = { $name }: gone
list-still = { $name }: still there
list-new = { $name }: new
see-texts = entries: see “Described in words”
bands-in-short = { $before } → { $after }
bands-in-full = before { $before }; after { $after }
band-share = { $name } { $p }
band-up-to = { $name } up to { $end }
band-above = { $name } above
bands-planned = Bands of “{ $name }”: { $bands } ({ $source }). They are no limit of their own. The probability of each is that of the true value, given the reading and its uncertainty.
outcome-pass = pass
outcome-conditional-pass = conditional pass
outcome-inconclusive = inconclusive
outcome-fail = fail
outcome-no-limit = for information
probability = within limit: { $p }
count-interval = pass rate after: { $low } to { $high } %
not-taken = not read
not-taken-before = not read before the work: { $why }
position-not-taken = not read in the retest: { $why }
cylinder-one = cylinder
cylinder-many = cylinders
cylinder-called = cylinder { $name }
position-called = { $one } { $name }
points-called = { $what } { $settings }
point-many = points
positions-called = { $one } { $names }
limit-or-own = { $limit }, unless a position has its own limit
limit-own = each its own limit
see-positions = see “Position by position”
read-with = With { $ids }
plain-id = { $id }
overdue-id = { $id } (calibration overdue)

## The desk's pages

about-customer = Customer
about-machine = Machine
about-identity = Make, model, serial
about-details = Details
about-received = Received
run-baseline = baseline
run-retest = retest
run-both = both
run-change = change
run-note = { $run }: { $note }
shown-in = { $file }
shown-in-at = { $file } at { $time }
cannot-tell-film-of = Readings shown in a recording
cannot-tell-film = What a recording shows is named beside its reading. A take without a cut shows that one thing followed another, and that the reading was there to be seen. It cannot show what was done before it began, how the instrument was set or connected, or that nobody made the film again; its seal shows only that the file was not changed since.
run-started = Started
run-ended = Ended
run-by = Measured by
run-witness = Witness
run-meter = Meter
fact-work = Work
run-remark = Note
not-recorded = not recorded
window = within { $window }
window-same = same words
condition-matched = alike
condition-harder = more severe
condition-easier = easier
condition-unknown = not known
condition-concerns = { $name } (for { $measures })
error-both = ±({ $percent } of reading + { $fixed })
error-percent = ±{ $percent } of reading
error-fixed = ±{ $fixed }
error-resolution = resolution { $step }
error-hand = timed by hand, u = { $u }
error-stated = certificate: U = { $u }, k = { $k }
calibration-none = not recorded
calibration-due = due { $due }
calibration-overdue = overdue since { $due }
chart-alt = { $name } by { $one }, before and after{ $unit ->
    [none] {""}
   *[other] , in { $unit }
}; limit { $limit }. { $each }.
chart-alt-position = { $position }: { $before }, then { $after }
chart-alt-position-limit = { $position }: { $before }, then { $after } (limit: { $limit })

balance-note = Highest minus lowest: { $spread_before } before, { $spread_after } after. Standing out from the other { $many }: before { $out_before }; after { $out_after } (modified z-score above 3.5).
balance-few = Highest minus lowest: { $spread_before } before, { $spread_after } after. With so few { $many }, none can be said to stand out.
balance-none = none
position-together = { $note } Changes: { $tie }.
paired-note = Of the { $many }, { $gained } now pass that did not before, and { $lost } no longer pass (McNemar's exact test, p = { $p }).
paired-too-few = Of the { $many }, { $gained } now pass that did not before, and { $lost } no longer pass. With { $count } { $many } no result could show a change: even if all had changed, p would be { $smallest }, and it must be below 0.05.
sign-note = Better than before: { $better } of the { $many }; worse: { $worse } (exact sign test of those that changed, two-sided, p { $p }).
sign-too-few = Better than before: { $better } of the { $many }; worse: { $worse }. So few { $many } can show no change: even if all had changed for the better, p would be { $smallest }, and it must be below 0.05.

## The work

work-about = By { $by }, from { $started } to { $finished }.
attribution-one = One thing is recorded as done between the two runs: { $what }. The change followed it.
attribution-several = { $count ->
    [2] Two things were
    [3] Three things were
    [4] Four things were
    [5] Five things were
    [6] Six things were
   *[other] { $count } things were
} done or repaired between the two runs. The change is credited to the work as a whole; no single part of it has been shown to be the cause of the change.
part-number = { $name }, { $number }
finding-repaired = Repaired
finding-left = Left as is
run-in-none = Nothing recorded.
run-in-starts = { $count ->
    [one] { $count } start
   *[other] { $count } starts
}
cost-labour = Labour
cost-labour-hours = Labour, { $hours }
cost-parts = Parts and fluids
cost-rest = Tax and other
cost-total = Total as charged
stage-work = work
photo-during-work = during the work
photo-caption = { $caption } ({ $stage })

## How this was judged

verdict-verified = Verified: every required measure meets its limit, every required improvement is met, no required measure got worse unless it is still clearly within its limit, and no required condition was easier or unknown.
verdict-not-verified = Not verified: at least one required measure does not meet its limit, or a required improvement is shown not to have been reached.
verdict-undecided = Undecided: nothing required is shown to fail in conditions no more severe than before, but not everything required is shown to be met.
rule-simple = Decision rule “simple”: a value at or inside its limit passes, any other fails. Uncertainty is not counted.
rule-guarded = Decision rule “guarded”: a value passes only if it is inside its limit by at least its uncertainty. Closer to the limit, inside (“conditional pass”) or outside (“conditional fail”), it is inconclusive; beyond that, it fails.
rule-four-zone = Decision rule “four-zone” (ILAC-G8:09/2019, 4.2.3): inside the limit by at least the uncertainty is a pass; inside by less, a conditional pass, which counts as a pass with a reservation; outside by no more than the uncertainty, a conditional fail, which is inconclusive; beyond that, a fail. A value exactly at the limit is inside. Between two limits closer together than twice the uncertainty, a value inside is a conditional pass if it is more likely inside than not.
rule-uncertainty = The uncertainty of a reading combines the instrument's stated accuracy and resolution, hand timing and judging by eye, and the scatter of repeats (JCGM 100:2008). The scatter is estimated once, from all repeats before and after the work, and counts for single readings too; where it is known how the machine varies from run to run, that takes its place. The uncertainty is given as an expanded uncertainty U with about 95 % coverage. What was estimated from few repeats is expanded separately, with Student's t, so that repeats that agree by luck do not count as certainty.
rule-change = A change is called improved or worsened only if it is larger than its own uncertainty, to which half a step of the display is added.
rule-variation-stated = “{ $name }” varies from run to run by a standard deviation of { $deviation }, as stated beforehand (source: { $source }). This is counted in both readings.
rule-separate-runs = Each value of “{ $name }” comes from a run of its own, so that their scatter shows how the machine varies from run to run.
rule-variation-unknown = How { $names } vary from one run to the next is not known and not counted; repeats within one run do not show it. Beside each change and result stands how much two runs under like conditions would have to differ, by themselves, for it to fall.
rule-independent = The errors of the two runs are treated as independent.
rule-paired = The { $pairs } repeats of “{ $name }” are paired, each before with one after: the scatter of their differences gives the repeatability of the change, s/√n with n − 1 degrees of freedom.
rule-paired-test = Wilcoxon's signed-rank test (exact, two-sided) is given beside it and decides nothing: { $used } pairs that differ, rank sums { $rises } up and { $falls } down, p { $p } (pairs without a difference dropped, ties given their mean rank).
rule-paired-few = With so few pairs, Wilcoxon's signed-rank test can never give a p below 0.05: even if all { $used } that differ had moved the same way, p would be { $smallest }. The test is therefore left out.
rule-paired-none = No pair differs, so there is no rank test to make.
rule-otherwise-independent = Otherwise the errors of the two runs are treated as independent.
rule-common = In the change of { $names }, and only there, the error of “{ $instrument }” is treated as the same in both runs, for this reason: “{ $reason }”. Its fixed part cancels; of a part proportional to the reading, only that share of the change remains. At a limit the error counts in full.
rule-path-converted = The opacity of “{ $name }” was measured as { $before } over a light path of { $before_path } before and { $after } over { $after_path } after, and converted to the { $path } for which its limit holds: N₂ = 1 − (1 − N₁)^(L₂/L₁), as in 40 CFR 86.884-14. Its uncertainty is propagated to first order.
rule-path-unlike = The opacity of “{ $name }” was measured over a light path of { $before_path } before and { $after_path } after. The same smoke is more opaque over a longer path, and no path was fixed beforehand, so the two opacities are not compared; the light absorption coefficient, which does not depend on the path, is.
rule-agreed = Limits and decision rule: { $agreed }.
rule-agreed-limits = Limits: { $agreed }. No decision rule was named; the one above is the default.
rule-not-agreed = No agreement on limits and decision rule is recorded.

quoted = “{ $name }”
worked-out-least = { $formula }, over those that were read, at least { $count }
worked-out = Worked out: { $formula }
over-sum = sum of { $name }
over-mean = mean of { $name }
over-lowest = lowest of { $name }
over-highest = highest of { $name }
over-spread = highest minus lowest of { $name }
over-deviation = greatest deviation of { $name } from its mean
looked-up = table ({ $source }) at { $of }
budget-position = { $name }, { $position }
budget-part = { $source } { $u } ({ $share })
source-accuracy = accuracy
source-resolution = resolution
source-repeatability = repeatability
source-hand = hand timing
source-by-eye = judged by eye
source-run-to-run = run to run
source-stated = stated
source-worked-out = worked out from several, of which one counts
source-setting = the setting of the point

## The worksheet

sheet-title = Worksheet { $number }: { $machine }
sheet-kind = Worksheet
sheet-before-work = Finish the baseline, enter it in baseline.toml and seal it before any work starts.
sheet-alike = Before the retest, compare every condition with the baseline. If one is easier by more than its window, the retest settles nothing: wait, and test another day.
sheet-all-digits = Use the same instruments and the same number of repeats and attempts in both runs. Write down every digit shown, and every attempt, passed or not.
sheet-photos = Photograph the same thing from the same place in both runs.
sheet-when = When
sheet-day = day
sheet-from = from
sheet-to = to
sheet-meter = Meter, if it has one
sheet-meter-unit = h · km · mi
sheet-hour-meter = Hour meter
sheet-odometer = Odometer
sheet-odometer-unit = km · mi
sheet-lower-is-more-severe = { $window }; lower is more severe
sheet-higher-is-more-severe = { $window }; higher is more severe
sheet-limit = Limit: { $limit }
sheet-instrument = With: { $id }
sheet-instruments = With (circle one): { $ids }
sheet-mind = Caution: { $hazards }
sheet-passed = passed
sheet-bands = Bands: { $bands } ({ $source })
sheet-counted = counted
sheet-counted-in = in
sheet-entry = code, text
sheet-nothing-to-fill-in = nothing to fill in
sheet-opacity = opacity
sheet-path = light path
sheet-clear = clear after
sheet-colour = colour, description
label-sheet-runs = The runs
label-sheet-conditions = Conditions, before the tests
label-sheet-measures = The tests
label-sheet-cautions = Cautions
label-sheet-baseline = Baseline, before the work
label-sheet-retest = Retest, after the work
label-sheet-work = The work: what was done, parts, fluids, time
label-sheet-note = Notes

## What each kind of test cannot tell (common practice, no published source)

test-cranking-time = Cranking time cannot tell fuel, heat, compression, starter and battery apart: each alone can lengthen it, and a better battery alone shortens it.
test-cranking-speed = Cranking speed cannot tell a weak battery, cable or starter from an engine that turns stiffly; thicker oil alone lowers it.
test-cranking-voltage = The voltage while cranking cannot tell a weak battery from a starter that draws too much, or from an engine that turns stiffly.
test-running-contribution = A running contribution test cannot tell low compression from a weak injector.
test-relative-compression = Relative compression by starter current compares the cylinders with each other: it cannot tell whether all are equally low, nor where a weak one leaks.
test-compression-pressure = Compression pressure depends on cranking speed and temperature. It cannot tell rings from valves or gasket, and says nothing about the fuel.
test-wet-compression-pressure = A wet compression test cannot tell rings from bore, and the oil itself takes up room: in a small combustion chamber it raises the pressure whatever the state of the rings.
test-leak-down = A leak-down test is made at rest, with the piston in one position: it cannot tell how the cylinder seals while running. Figures from two different testers cannot be compared.
test-crankcase-pressure = Crankcase pressure cannot tell worn rings and bores from a blocked breather, worn valve guides, or a turbocharger that leaks into the crankcase: a leak-down test of each cylinder, and a reading with the breather clear and the turbocharger's drain set apart, would. It compares only at the same speed, load and orifice.
test-oil-pressure = Oil pressure cannot tell worn bearings from thin or hot oil, or from a weak pump or relief valve.
test-snap-acceleration-smoke = Smoke during a free acceleration is smoke without load: it cannot tell too much fuel from too little air, nor what the engine does under load.
test-visible-smoke = Smoke judged by eye depends on light, wind and background. Its colour hints at where it comes from, but cannot settle it.
test-battery-load = A battery load test cannot tell a worn battery from a discharged or cold one, nor how long it will last.
test-voltage-drop = A voltage drop holds only for the current that flowed: it cannot tell which joint in that part of the circuit is bad, and without load it shows nothing.
test-insulation-resistance = Insulation resistance holds only for this temperature, moisture and test voltage. It cannot show a fault between the turns of one winding.
test-running-current = A running current cannot tell a machine that turns stiffly from a wrong supply voltage or a failing winding.
test-load-step = A load step tests engine, governor and voltage regulator together: it cannot tell which of them is slow.
test-supply-pressure = A supply pressure cannot tell a weak pump from a restriction before the gauge, a leak behind it, or a regulator set low. While nothing draws from it, it says nothing about the flow: the pressure at full demand, and the flow itself, would.
test-suction-restriction = Vacuum on the suction side cannot tell a clogged filter from a narrow or collapsed line, nor from a liquid that is cold and thick or a higher flow, and a leak that draws air can hide them all. Readings before and after the filter at a known flow, and a look for bubbles, would.
test-pressure-hold = Pressure that holds shows only that nothing leaks faster than this test can detect; a change of temperature alone moves it. It cannot tell where a leak is.
test-leak-rate = A leak rate holds only for the pressure and temperature of the test: it cannot tell one leak from several, nor where they are.
test-temperature-rise = A temperature rise depends on load and air flow: it cannot tell friction from poor cooling or too little lubricant.
test-vibration-level = An overall vibration level cannot tell unbalance, misalignment, bearing and gear damage apart, and an early bearing fault hardly changes it.
test-sound-level = A sound level depends on the place, the room and other machines: it cannot tell which part makes the sound.
test-backlash = Backlash cannot tell worn teeth from loose bearings, keys or shafts, whose play adds to it, and read in one position it says nothing of the other teeth or of their contact under load. Readings around a whole turn, the play of the bearings alone, and a contact pattern would.
test-superheat = Superheat alone cannot tell a low charge from a restricted metering device.
test-subcooling = Subcooling alone cannot tell an overcharge from a restricted liquid line, or from non-condensable gas.
test-condenser-split = A condenser split cannot tell a dirty condenser from too little air flow, an overcharge, or non-condensable gas.
test-pull-down-time = A pull-down time depends on the weather, the load and the door: it cannot tell which part of the circuit held it back.
test-voltage-unbalance = Voltage unbalance cannot tell an uneven supply from a bad joint or an uneven load on the way to the machine: readings at the incoming supply and at the machine's terminals, both under load, would. It changes with whatever else runs on the same supply.
test-current-unbalance = Current unbalance cannot tell an uneven supply from a fault in the winding, for a small voltage unbalance makes several times as much in the currents. The voltages read at the same moment would tell, and so would moving all three leads on by one terminal: what then stays with its supply line comes from the supply.
test-winding-resistance = Winding resistance changes with temperature, in copper by about 0.4 % per kelvin: two figures compare only at the same winding temperature. It shows an open circuit or a bad joint, but a short between a few turns can hide in it, and it says nothing about the insulation to earth; a surge test and an insulation test would.
test-polarisation-index = A polarisation index shows moisture and dirt in or on an insulation. It cannot show a fault between turns, nor insulation that is dry but cracked, and where the resistance after one minute is very high (above 5 GΩ by IEEE 43) it means little. A surge test and a close look would show those.
test-earth-continuity = Earth continuity cannot tell a whole conductor from one that hangs by a few strands, and pipes or frames in parallel can hide a broken one. It does not show that the supply disconnects in time. A test at high current with the parallel paths open, and one of the earth fault loop, would.
test-leakage-current = Leakage current cannot tell failing insulation from the filters and long cables of a sound machine, nor in which part of the circuit it flows: disconnecting the parts one by one, or their insulation resistance, would. It depends on the supply voltage, on moisture, and on what is switched on.
test-illuminance = Illuminance cannot tell a weak lamp from dirt, a low supply voltage or a fitting that points elsewhere: cleaning it and reading the voltage at the lamp would. It holds for the points that were read and says nothing of glare; daylight adds to it unless it is shut out.
test-flow-at-pressure = Flow at one pressure cannot tell a worn pump from a slow drive, a restricted suction or a liquid that is thin because it is warm: speed, suction vacuum and temperature read beside it would. It says nothing about the other points of the curve.
test-valve-setting = A setting is where a valve or switch was found to act: it cannot tell whether the valve then passes the flow that it must, whether it closes again tightly, or whether it will stay where it was set. The flow through it, the pressure at which it closes, and a second test later would.
test-drift = Drift of a rod or a load cannot tell a leaking piston seal from a leaking valve: closing the cylinder off at its ports and measuring again would. It holds for this load, oil temperature and position of the rod.
test-cycle-time = A cycle time cannot tell which step holds the machine back, nor whether it is the drive, a valve, friction or the control: the times of the single steps, with pressure, current or flow at the slow one, would. It depends on load, temperature and settings.
test-alignment = Alignment is read at rest and mostly cold: it cannot tell where heat, load and the pull of pipes move the machine in service, nor a misalignment from a bent shaft or a foot that is not firm. Run-out, a check of each foot, and a reading while the machine is still warm would.
test-belt-tension = Belt tension cannot tell a sound belt from one that is worn or oily, nor show worn grooves or pulleys out of line, which make a belt slip at the right tension too: a straightedge and a groove gauge would. It falls as a new belt beds in, and figures by two methods, force or frequency, do not compare.
test-brake-force = Brake force on a tester cannot tell the brake from the grip and the weight on the wheel: once the wheel slips, only the grip is measured. It is a slow, cold test and says nothing of fading when hot or of the distance to stop; a measured stop of the loaded machine would.
test-oil-cleanliness = Oil cleanliness counts particles by size: it cannot tell wear metal from dust, water or air bubbles, nor which part they come from; an analysis of metals and water, and the particles under a microscope, would. It depends on where, when and into what the sample was drawn.
test-combustion-analysis = Combustion analysis cannot tell a wrong fuel supply or a worn nozzle from too little air or draught, and air that leaks into the flue dilutes what is measured. It holds for this firing rate, and does not show whether flue gas escapes into the room: a spillage test at the appliance would.
test-water-quality = Water quality holds for this sample, from this place at this moment. Conductivity and pH cannot tell which substances cause them, and no such figure says anything about germs or about corrosion already done; a laboratory analysis and a look inside would.
test-fault-memory = A fault memory shows what the control noticed: it cannot tell a failed part from a bad connection or supply to it. Empty, it shows only that nothing was stored since it was cleared; when that was, and whether the monitored function has run since, would tell how much that is worth.
test-leak-check = A search for leaks with soap solution or by ear finds what bubbles or can be heard: it misses small leaks, and those out of reach or drowned by noise, and gives no figure for what is lost. Holding a pressure over time, or a detector for the gas, would show more.
test-actuation-check = That an actuator can be heard or felt shows that it is switched, not that it moves all the way or passes what it should; where it stays silent, this cannot tell an electrical fault from a mechanical one. Its current and resistance, and the flow or travel that it gives, would. Another person may judge otherwise.
form-grade = A grade by ear, eye or hand is one person's judgement on one day: how far it is from the next grade, nothing measured, and somebody else may grade differently.
form-rate = The scatter of a counted rate is that of events that come singly and by chance. Events that come in bursts scatter more, and a rate that differs from run to run by itself is not in it.
form-list = A stored fault that is gone cannot tell whether its cause is: memory can be cleared, and many faults are stored again only after the machine has tested itself.

## Cautions

hazard-injection = injection pressure
hazard-exhaust = exhaust gas
hazard-rotating-parts = rotating parts
hazard-battery = battery
hazard-heat = hot surfaces
hazard-fire = fire
hazard-lifting = raised load
hazard-electricity = mains voltage
hazard-pressurised-gas = gas under pressure
hazard-flue-gas = flue gas
hazard-hydraulics = liquid under pressure
hazard-moving-machine = machine that can move

caution-injection = Fuel or oil from an injector or a leak can pierce skin, even through gloves, and hurts little at first. Never feel for leaks by hand; relieve the pressure first. Such a wound is a surgical emergency: go to hospital at once.
caution-exhaust = Exhaust gas kills. Do not run an engine indoors without exhaust extraction; an open door is not enough.
caution-rotating-parts = Keep clothing, hair and hands away from belts, fans and shafts, and expect a machine that is set to automatic to start by itself. Lock it out before working on it.
caution-battery = Batteries give off explosive gas: no flames or sparks, and wear eye protection. Make the last connection away from the battery, and never load-test a frozen one.
caution-heat = Surfaces stay hot after a stop, and liquids hot and under pressure. Let them cool before opening anything.
caution-fire = Keep sparks and hot parts away from fuel and vapour, and have an extinguisher at hand.
caution-lifting = Never work under a load or a machine that is suspended, or held up by a jack or by hydraulics alone.
caution-electricity = Mains voltage and charged capacitors kill. Isolate, lock out, test for absence of voltage; work on them only if you are licensed to.
caution-pressurised-gas = Refrigerant and other gas under pressure can freeze skin, burst lines and displace air. Only licensed people may open a refrigerant circuit.
caution-flue-gas = Flue gas can hold carbon monoxide, which kills and has no smell. Keep the flue connected and the room ventilated, and wear a carbon monoxide alarm. Only licensed people may work on a burner's gas or oil side.
caution-hydraulics = A jet of oil or water under pressure can pierce skin, even through gloves, and hurts little at first: never feel for leaks by hand, and go to hospital at once with such a wound. Circuits stay under pressure after a stop: lower every load and relieve the pressure before opening anything.
caution-moving-machine = A machine under test can start to move, turn or drop its tool. Chock or secure it, keep people clear of its path, and agree on signals before anyone releases a brake or lets it run.
caution-defer = These are cautions in common use, not instructions. The maker's instructions, local codes and licensed practice come first.

## Seals and signature

kind-of-receipt = Receipt for a sealed baseline
receipt-title = Receipt for the sealed baseline of { $number }: { $machine }
receipt-headline = The baseline, as it was measured and sealed
receipt-lead = These figures and limits were sealed as shown here, at the time below. With the fingerprint on this page, anyone can check later that the report was judged by them and by no others.
receipt-measured = Measured
receipt-conditions = Conditions
receipt-condition = { $name } { $value } ({ $window })
receipt-measured-by = { $moment }, by { $by }
receipt-rule-simple = After the work, a value at or inside its limit passes; uncertainty is not counted.
receipt-rule-guarded = After the work, a value passes only if it is inside its limit by at least its uncertainty; outside by more than that, it fails; in between, it is inconclusive.
receipt-rule-four-zone = After the work, a value inside its limit by at least its uncertainty passes; inside by less, it is a conditional pass, which counts as a pass with a reservation; outside by no more than the uncertainty, it is inconclusive; beyond that, it fails. Between two limits closer together than twice the uncertainty, a value inside is a conditional pass if it is more likely inside than not, else inconclusive.
receipt-keep = Keep this page, on paper or as a file. It is the only copy of the fingerprint that the shop cannot change.
label-receipt-today = Today
label-receipt-compare = As page 1 of the report has it
label-receipt-read = Each reading
label-receipt-fingerprint = Fingerprint of the seal
label-receipt-qr = QR code of the full SHA-256 digest of the seal
label-seals = Seals
label-stage = Stage
label-sealed = Sealed
label-fingerprint = Fingerprint and SHA-256 of the seal
label-how = Three ways to check

attached-input = Input file, SHA-256 { $digest }
attached-seal = Seal, SHA-256 { $digest }
attached-result = Every figure in this report, unrounded
attached-document = What this document is, and how its pages were made
attached-form = Part of the shop's own form that the pages were set with
signed-by = Signed electronically by { $name }
signed-when = { $moment }, { $time }
signed-clock = by the clock of the shop's computer
signed-set = a time set by hand
signed-authority = by the clock of the shop's computer; a time-stamp authority attests the signature too
signed-authority-away = by the clock of the shop's computer; the time-stamp authority did not answer
signed-other-name = The certificate does not name { $shop }.
signed-key = SHA-256 of the certificate
signed-description = Electronic signature of { $name } over this whole document
unsigned = This report has no digital signature: it shows what was measured, but not who issued it, and it could be altered without a trace.
unsigned-receipt = This page has no digital signature. Its fingerprint still reveals any later change to the sealed files, as long as you keep the page itself.

sealed-before = On record before the work, by the shop's clock. If your receipt shows another, or you have none, ask the shop before you rely on this page.
sealed-before-by-hand = Sealed before the work, by a time set by hand
sealed-amended = Sealed before the work, and amended
sealed-amended-late = Sealed before the work; amended after it had started
sealed-late = Sealed only after the work had started
sealed-not = Not sealed before the work
sealed-broken = A seal is broken
seal-alert = The sealed record was changed: { $what }. The figures here may not be those that were sealed. Rely on those of your receipt, and ask the shop, at the number on it, what happened.
seal-changed = { $file }, changed after sealing with the { $stage }
seal-missing = { $file }, sealed with the { $stage } and now missing
chain-not-a-seal = { $file } is not a seal: { $why }
chain-name = { $file } is not the next file name in the chain of seals
chain-incomplete = { $file } does not list every file of its stage
chain-previous = { $file } does not match the seal before it: that seal was changed or replaced after { $file } was made
chain-order = { $file } has no earlier seal to follow
chain-no-reason = { $file } seals its stage a second time without giving a reason
chain-clock = { $file } has an earlier time than the seal before it
chain-other-job = { $file } names another job than the first seal
seal-not-text = it is not text
seal-line = line { $line } is not what a seal has there
seal-name-path = `{ $name }` is not a plain path
seal-name-hidden = `{ $name }` has an invisible character
seal-names-alike = `{ $one }` and `{ $other }` are the same name on some systems
seal-set-by-hand = { $moment } (time set by hand)
seal-amends = Replaces an earlier seal: { $why }
seal-none-short = Limits and baseline were not sealed before the work: they could have been written afterwards.
seal-late-short = Limits and baseline were sealed only after the work had started: they could have been written afterwards.
seal-retest-short = The retest was not sealed.
seal-none = Nothing was sealed. The digests below show that the files are those this report was made from; they do not show that limits and baseline were written before the work.
seal-before-work = By the times in these files, the limits, the decision rule and the baseline were sealed before the work started. The receipt made with that seal shows its fingerprint. Each seal holds the digest of every file of its stage and of the seal before it, so no seal but the last can be changed or replaced on its own; the last is bound by the documents issued since.
seal-after-work = The baseline was sealed only after the work had started. The seals show that nothing has changed since then; they do not show that limits and baseline were written before the work.
seal-amended = After the baseline was first sealed, it was changed ({ $files }) and sealed again: { $why }.
seal-amended-late = The baseline was sealed before the work. After the work had started it was changed ({ $files }) and sealed again, for this reason: { $why }. This report cannot show that what was changed there was written before the work.
seal-retest-amended = After the retest was first sealed, it was changed ({ $files }) and sealed again: { $why }.
seal-clock = The times of the seals come from the computer on which they were made. What fixes them in time is the receipt that the customer was given.
evidence-truth = Neither a digest nor a signature can show that a reading was true when it was written.

way-eye = By eye
way-page = With a phone or any browser
way-hand = By hand
how-eye = Compare the fingerprint at the foot of page 1, letter by letter, with the one on the receipt that was handed over before the report: if they are the same, limits and readings before the work are those of the receipt. Any PDF reader that checks signatures says who signed, and whether anything was changed since.
how-eye-unsealed = There is no fingerprint to compare with a receipt. Any PDF reader that checks signatures says who signed, and whether anything was changed since.
how-eye-receipt = Page 1 of the report must show the fingerprint of this receipt, letter by letter. Any PDF reader that checks signatures says who signed this page, and whether anything was changed since.
how-page = Open check.html, the page of the program retestify, in a browser, and choose this file and, if you have it, your receipt. Nothing is installed, and nothing is sent anywhere. Take check.html from those who publish retestify, not from the shop. With the program itself: retestify verify report.pdf --receipt receipt.pdf --trust shop.pem
how-page-receipt = Open check.html, the page of the program retestify, in a browser, and choose this file, or the report with it. Nothing is installed, and nothing is sent anywhere. Take check.html from those who publish retestify, not from the shop. With the program itself: retestify verify receipt.pdf --trust shop.pem
how-hand = With tools that most systems have:
made-with = Made with { $program }
how-signature = Save this file as report.pdf in a folder of its own. Any PDF reader that checks signatures shows who signed it and whether it was changed since; so does the first command, which must print “Signature is Valid” and “Total document signed”. It also says that the certificate's issuer is unknown: the shop issued it to itself, which is why the next step matters.
how-certificate = The certificate must be the one that the shop gave you. The last command must print this SHA-256 for it, and so must “openssl x509” for the certificate file that you were given:
how-attachments = The input files, the seals and every figure unrounded (result.json) are inside this PDF. A PDF reader lists them as attachments; this command writes them out.
how-attachments-unsealed = The input files and every figure unrounded (result.json) are inside this PDF. A PDF reader lists them as attachments; this command writes them out.
how-digests = The digests must match those in the table of input files.
how-receipt = Save this page as receipt.pdf in a folder of its own. These commands, available on most systems, show who signed it and whether it was changed, write out the files inside it, compare them with the seal, and print the letters of the fingerprint. When the job is closed, the report must show the same fingerprint in its table of seals.
how-receipt-unsigned = Save this page as receipt.pdf in a folder of its own. It is not signed. These commands, available on most systems, write out the files inside it, compare them with the seal, and print the letters of the fingerprint. When the job is closed, the report must show the same fingerprint in its table of seals.
how-seals = Each file must be reported as OK. Photos and recordings stay with the shop; with copies of them in the folder, the same command without “--ignore-missing” checks them too.
how-chain = The digests of the seals must match the table of seals, and the line “previous” of each seal must give the digest of the seal before it.
how-fingerprint = The fingerprint of the baseline seal in force must be the one on the receipt that the customer was given, where a QR code holds the whole digest. Its letters are the start of the base32 of the digest; the command must print:
input-attached = attached
input-listed = listed only

## The page before a shop's own form

own-form-title = Set with the shop's own form
own-form-text = The pages behind this one were set with the shop's own template or wording, which can print anything. This page was not: what it says was worked out from the files in this document. Where a later page says something else, rely on this one.
own-form-job = Job { $number }: { $machine }
own-form-figure = { $name }: before { $before }, after { $after }; { $limit }; { $result }
own-form-files = The shop's own form is attached: { $files }.
