### What intake says of what is wrong in a job, as it says it in English. The form finds a
### sentence here, and says it in its own language: the message of the same name in the file of
### that language. What is not found stays in English.
###
### A gap holds what the job says, and stays as it is. But `what`, `why`, `other`, `found` and
### `wants` hold a sentence of this file; `one`, `many` and `whose` may, or a word of the job.

problem-unit-unknown = the unit `{ $written }` is unknown
problem-did-you-mean = did you mean `{ $near }`?
problem-did-you-mean-text = did you mean "{ $near }"?
problem-did-you-mean-takes = did you mean "{ $near }"? It takes { $list }
problem-write-a-unit = write a unit such as `s`, `kPa`, `psi`, `V`, `°C` or `rpm`; samples/FORMAT.md lists all
problem-unit-pressure = the unit `{ $written }` says what the pressure is measured against
problem-unit-pressure-hint = write `unit = "{ $unit }"`, and `pressure = "{ $word }"` with the measure in limits.toml
problem-unit-other = `{ $written }` is a unit of { $of }, but { $owner } is { $quantity }
problem-unit-use = use a unit of { $of }: { $list }
problem-unit-missing = `{ $id }` has no unit
problem-unit-add = add `unit = "{ $unit }"`
problem-size = no instrument shows a number of this size
problem-absolute-zero = this temperature is below absolute zero
problem-check-number = check the number and its unit
problem-negative = a reading of this test cannot be negative
problem-check-sign = check the number and its sign
problem-not-short = `{ $id }` is not a short name
problem-not-short-hint = use lower-case letters a to z, digits and hyphens, such as `crank-time`
problem-no-such-date = there is no such date
problem-check-month = check the month and the day
problem-no-such-time = there is no such date or time
problem-check-time = check the date, the time and the offset from UTC
problem-not-money = this is not an amount of money
problem-not-money-hint = write it with at most two decimals, such as 486.50
problem-no-instrument = job.toml has no instrument `{ $id }`
problem-add-instrument = add an `[[instrument]]` to job.toml
problem-instruments-are = job.toml has { $list }
problem-instrument-other = the instrument `{ $id }` measures { $of }, not { $quantity }
problem-instrument-other-hint = name the instrument that gave this reading, or correct its unit in job.toml
problem-uncertainty-unknown = the uncertainty of `{ $id }` is not known
problem-uncertainty-unknown-hint = add `instrument = "…"` from job.toml, or `uncertainty = …`
problem-errors-unstated = the errors of `{ $id }` are not stated
problem-errors-unstated-hint = add `accuracy`, `accuracy_percent_of_reading`, `resolution` or `uncertainty` from its manual or certificate, or `hand_timed = true`
problem-two-instruments = there are two instruments with the id `{ $id }`
problem-two-instruments-hint = give each instrument, and each range you use, its own id
problem-hand-timed = only an instrument that measures time can be hand timed
problem-due-before = the next calibration is due before the last one
problem-check-dates = check both dates
problem-missing-after = the reading of `{ $id }` is missing; limits.toml has that measure
problem-missing-after-baseline = the reading of `{ $id }` is missing; the baseline has one
problem-no-value = there is no value
problem-add-value = add `value = …`
problem-no-grade = there is no grade
problem-other-grade = `{ $grade }` is not one of the grades of `{ $id }`
problem-other-least = `{ $least }` is not one of the grades
problem-grades-are = the grades are { $list }
problem-no-grades = `{ $id }` has no grades
problem-no-grades-hint = add `grades = [ "…", "…" ]`, from worst to best
problem-one-grade = one grade alone grades nothing
problem-one-grade-hint = write at least two, from worst to best, such as `[ "no", "yes" ]`
problem-no-count = there is no count
problem-add-count = add `count = …`; 0 is a count too
problem-rate-needs = a rate needs `count`, `over` and `unit`
problem-rate-needs-hint = write all three, such as `count = 12`, `over = 10` and `unit = "{ $unit }"`
problem-over-nothing = nothing can be counted over nothing
problem-over-nothing-hint = write over how much was counted
problem-no-list = there is no list
problem-code-twice = the code `{ $code }` is in the list twice
problem-code-twice-hint = write each code once; what belongs to it goes into its `text`
problem-add-passes = add `passes = …` and `attempts = …`
problem-passes-attempts = `passes` needs `attempts`, and `attempts` needs `passes`
problem-passes-attempts-hint = write both, such as passes = 5, attempts = 6
problem-too-few-attempts = { $attempts } attempts cannot give the { $min } passes that the limit requires
problem-too-few-attempts-hint = make at least { $min } attempts, or correct `min_passes` in limits.toml
problem-more-passes = { $passes } passes are more than { $attempts } attempts
problem-more-passes-hint = swap or correct the two numbers
problem-no-text = there is no text
problem-smoke-empty = this smoke reading is empty
problem-smoke-empty-hint = add `colour`, `clear_seconds`, `opacity_percent` or `words`
problem-smoke-limit = the limit of `{ $id }` needs `{ $key }`
problem-opacity-instrument = opacity needs the instrument that measured it
problem-opacity-instrument-hint = add `instrument = "…"`, or describe the smoke in `words`
problem-not-taken-with = `{ $key }` cannot be combined with `not_taken`
problem-one-of-two = delete one of the two
problem-row-missing = the row for { $one } { $name } is missing
problem-no-row = no row of `{ $id }` was taken
problem-no-row-hint = write `not_taken = "why"` for the whole reading, without rows
problem-no-rows = `{ $id }` has no rows
problem-meter-counts = this meter cannot count in `{ $unit }`
problem-meter-none = the machine has no meter, as job.toml says
problem-meter-other = this meter counts something else than the baseline's
problem-meter-other-hint = read the same meter in both runs
problem-before = { $what } ({ $when }) is before { $other } ({ $then })
problem-before-hint = correct it here or in { $file }
problem-before-received = the baseline is dated before the day the machine was received
problem-before-received-hint = correct the time here, or `received` in job.toml
problem-follow-up = the follow-up is before the end of the work
problem-follow-up-hint = write a later date
problem-currency = `{ $code }` is not a currency code
problem-currency-hint = write the three letters of ISO 4217, such as "EUR" or "USD"
problem-total-less = the total is less than labour plus parts ({ $sum })
problem-correct-one = correct one of the three
problem-required-no-limit = `{ $id }` is required but has no limit
problem-required-no-limit-hint = add a limit or a required improvement, or delete `required`
problem-no-source = the limit of `{ $id }` has no source
problem-no-source-hint = add `source = "…"`: the manual and section, or with whom it was agreed
problem-no-window = the condition `{ $id }` has no window
problem-no-window-hint = add `window = …`: the largest difference that counts as alike
problem-greater = `{ $min }` is greater than `{ $max }`
problem-greater-hint = swap them or correct one
problem-wrong-side = the limit is on the wrong side
problem-wrong-side-hint = `better = "lower"` needs `max`, `better = "higher"` needs `min`
problem-inside-both = `inside` needs both `min` and `max`
problem-add-missing = add the missing one
problem-not-for-kind = `{ $key }` does not apply to this kind of measure
problem-not-for-kind-hint = delete it, or change `kind`
problem-not-for-words = `{ $key }` does not apply to a condition in words
problem-not-for-words-hint = delete it, or add `unit`
problem-blank = `{ $name }` is blank
problem-blank-hint = write something, or delete the line
problem-empty = `{ $name }` is empty
problem-not-printed = `{ $name }` has a character that cannot be printed: { $character }
problem-not-printed-hint = the fonts cover Latin, Greek, Cyrillic and Vietnamese; use only those letters
problem-too-long = `{ $name }` has { $length } characters
problem-shorten = shorten it to at most { $max }
problem-number-odd = `{ $name }` is not a number this program can handle
problem-number-odd-hint = write it with fewer digits
problem-number-range = `{ $name }` is out of range
problem-between = it must be between { $min } and { $max }
problem-at-least = it must be at least { $min }
problem-at-most = it must be at most { $max }
problem-missing-key = the key `{ $name }` is missing
problem-film-unknown = this run has no recording `{ $file }`
problem-film-time = this is no time in a recording
problem-film-count = write minutes and seconds as a player counts them, such as `2:17`; after the first hour `1:02:17`
problem-film-which = it does not say of which recording
problem-film-which-hint = add `recording` with its file, or delete this line
problem-film-short = `{ $file }` is { $length } long and has no { $time }
problem-film-short-hint = correct the time, or the `length` of the recording

problem-word-cylinder = cylinder
problem-word-cylinders = cylinders
problem-word-point = point
problem-word-points = points
problem-word-grades = grades
problem-word-bands = bands
problem-word-positions = positions
problem-word-measures = measures
problem-word-conditions = conditions
problem-word-tables = tables
problem-word-sets = sets of positions
problem-word-entry = entry
problem-word-entries = entries
problem-word-character = character
problem-word-characters = characters
problem-word-baseline-start = the start of the baseline
problem-word-baseline-end = the end of the baseline
problem-word-work-start = the start of the work
problem-word-work-end = the end of the work
problem-word-retest-start = the start of the retest
problem-word-retest-end = the end of the retest
problem-word-none = none
problem-word-limit-of = the limit of `{ $id }`
problem-same-file = the file is called `{ $file }`
problem-same-name = write the name here exactly as the file has it, capitals too
problem-photo-file = photo `{ $file }`: { $why }
problem-photo-picture = photo `{ $file }` { $why }
problem-copy-into = copy it into the job folder, or correct the name
problem-recording-file = recording `{ $file }`: { $why }
problem-file-missing = the file is missing
problem-file-not-regular = this is not a regular file
problem-file-not-regular-hint = replace it with an ordinary file
problem-file-larger = the file is larger than { $limit } MiB
problem-file-larger-hint = keep large files elsewhere; this one should be small
problem-file-outside = the path leads out of the job folder
problem-file-outside-hint = copy the file into the job folder and write its path there, with `/` between folders
problem-file-odd-path = this is not a plain path of a file in the job folder
problem-file-odd-path-hint = write its path, such as `photos/gauge.jpg`, with `/` between
problem-file-refused = the file cannot be read: { $system }
problem-file-refused-hint = check that you may read it
problem-pixels = has { $width } × { $height } pixels
problem-pixels-hint = save a smaller copy: at most 64 megapixels are accepted
problem-pixels-deep = has { $width } × { $height } pixels of more than 8 bits a colour
problem-pixels-deep-hint = save a copy with 8 bits a colour, or a smaller one
problem-cut-short = is cut short or damaged
problem-cut-short-hint = copy it from the camera again; open it in a viewer to see whether it is complete
problem-heic = is a HEIC photo
problem-heic-hint = set the camera to JPEG, or export a JPEG copy, and use that
problem-not-a-picture = is neither a JPEG nor a PNG picture
problem-not-a-picture-hint = export it as JPEG, and use that file
problem-pair-work = a photo of the work cannot be part of a pair
problem-pair-work-hint = delete `pair` here; a pair is one photo of the baseline and one of the retest
problem-pair-same = the pair `{ $id }` has the same picture, `{ $file }`, twice
problem-pair-same-hint = name the photo taken at the retest, or delete `pair` in both files
problem-pair-alone = no photo in { $file } belongs to the pair `{ $id }`
problem-pair-near = there is a pair `{ $id }`: write the same name in both
problem-pair-add = add `pair = "{ $id }"` to the photo of the same thing there
problem-pair-second = a second photo of this run has the pair `{ $id }`
problem-pair-second-hint = a pair is one photo of each run: give this one another name
problem-film-length = this is no length of a recording
problem-film-add = add a `[[recording]]` with that file and its caption
problem-film-known = it has { $list }; or add a `[[recording]]`

problem-points-taken = there is another set of positions or points `{ $id }`
problem-points-taken-hint = give each set its own id; `cylinders` are those of the machine
problem-points-order = the settings do not rise from one to the next
problem-points-order-hint = sort them, and write each once
problem-cylinders-taken = `cylinders` are those of the machine
problem-cylinders-taken-hint = delete this table: job.toml says how many cylinders there are; or choose another id
problem-cylinders-unknown = the number of cylinders of the machine is missing
problem-cylinders-unknown-hint = add `cylinders = …` under `[machine]` in job.toml
problem-two-with-id = there are two { $many } with the id `{ $id }`
problem-two-with-id-hint = give each { $one } its own id
problem-two-called = there are two { $many } called `{ $name }`
problem-two-called-hint = give each its own name, or delete one
problem-two-positions-hint = give each position its own name
problem-count-or-names = a set of positions needs either `count` or `names`
problem-count-or-names-hint = write `count = 3` for numbers, or `names = [ "left", "right" ]`
problem-no-positions = there is no set of positions `{ $id }`
problem-no-positions-hint = add a table `[[positions]]` or `[[points]]` with `id = "{ $id }"` above the measures, or use `cylinders`
problem-no-point = the plan has no point { $written }
problem-no-point-hint = it is set to { $list } { $unit }
problem-no-position = the plan has no { $one } { $written }
problem-numbered-to = they are numbered 1 to { $most }
problem-write-one-of = write one of { $list }
problem-write-one-of-quoted = write one of { $list }, between quotes
problem-row-no-limit = this row has no limit
problem-row-add-values = add `min`, `max` or both, or `target`
problem-row-add-grade = add `at_least = "…"`
problem-row-add-counts = add `min_count`, `max_count` or both
problem-row-delete-or = delete it, or { $what }
problem-row-twice = { $one } { $at } has two rows
problem-row-twice-hint = delete one of them
problem-row-twice-repeats = correct it, or write repeats of one { $one } as `values = [ … ]`

problem-rate-at = a rate is not read at several positions
problem-rate-at-hint = delete `at` and give each place a measure of its own, or delete `per`
problem-rate-key = `{ $key }` needs `per`
problem-rate-key-hint = add `per = "min"` or another unit, or write `{ $instead }`
problem-per-nothing = nothing can be counted per `{ $symbol }`
problem-per-nothing-hint = write a unit of time, length, area, volume or mass, such as `min`
problem-count-key = `{ $key }` is the limit of an exact count, and this one is per { $symbol }
problem-count-key-hint = write `{ $instead }`, or delete `per`
problem-count-side-hint = `better = "lower"` goes with `{ $max }`, `better = "higher"` with `{ $min }`, `better = "inside"` with both
problem-bands-ends = { $count } bands have { $between } ends between them, not { $given }
problem-bands-ends-hint = write in `upper` where each band but the last ends
problem-bands-order = the bands do not rise: after { $number } comes { $next }
problem-bands-order-hint = write their ends from the lowest to the highest

problem-both-given = both `{ $key }` and `{ $besides }` are given
problem-keep-one = keep one of the two
problem-before-nothing = `before` states no limit
problem-before-nothing-hint = add `min`, `max` or both, or `target`, or delete it
problem-before-depends = `before` does not stand beside a limit that is worked out in each run
problem-before-alone = `before` is the limit of what was in service, and the retest has none
problem-before-alone-hint = add `min`, `max` or `target`: what the retest has to keep
problem-tolerance-alone = `{ $key }` is a tolerance, and there is no `target`
problem-tolerance-alone-hint = add `target = …`: the figure that is wanted
problem-target-bounds = both a target and bounds are given
problem-target-bounds-hint = keep `target` with its tolerance, or `min` and `max`
problem-target-alone = this target has no tolerance
problem-target-alone-hint = add `within = …` or `within_percent = …`
problem-target-exact = nothing is exactly at its target
problem-target-exact-hint = write a tolerance of more than 0, or `min` and `max`
problem-target-zero = a percentage of a target of 0 is nothing
problem-percent-no-zero = a percentage of { $quantity } in { $unit } has no meaning
problem-percent-gauge = a percentage of a gauge pressure has no meaning
problem-use-within-degrees = use `within`, in kelvins or Fahrenheit degrees
problem-use-within = use `within`
problem-use-improve-by = use `improve_by`
problem-use-improve-by-degrees = use `improve_by`, or measure a temperature difference in `K` or `Δ°F`
problem-use-improve-by-gauge = use `improve_by`; or add `pressure = "difference"` or `"absolute"` if it is one
problem-should-alone = `{ $key }` goes with a limit that must be met, and there is none
problem-should-alone-hint = write the only limit there is as `min` or `max`
problem-should-outside = `{ $key }` is not within the limit that must be met
problem-should-outside-hint = what should be is stricter than what must be: swap them, or correct one
problem-as-printed-alone = `as_printed` is the manual's wording of a limit, and there is none
problem-as-printed-alone-hint = add `min`, `max` or `target`: what it comes to here
problem-improve-direction = a required improvement needs a direction
problem-improve-direction-hint = add `better = "lower"` or `better = "higher"`
problem-improve-size = an improvement of this size is not possible
problem-improve-size-hint = write more than 0; where less is better, at most 100 %
problem-variation-one = `run_to_run` needs either `deviation` or `percent`
problem-variation-one-hint = write `deviation = …` in { $unit }, or `percent = …`
problem-variation-none = no machine is the same in every run
problem-variation-none-hint = write what your log shows; delete `run_to_run` if you do not know it
problem-variation-write = write `deviation = …`
problem-by-eye-time = only the time of an event can be judged by eye in seconds
problem-by-eye-time-hint = delete it; what is read from an instrument has the instrument's errors
problem-pressure-other = `pressure` applies to a measure in a unit of pressure
problem-delete-it = delete it
problem-no-measure = there is no measure `{ $id }`
problem-file-has = this file has { $list }
problem-paired-at = `paired` does not apply to a measure that is read at several positions
problem-paired-at-hint = delete it: each position is compared with itself
problem-least-read-alone = `least_read` is of a figure that is worked out over several positions
problem-least-read-alone-hint = delete it, or add `worked_out`
problem-limit-rows-one = `limit_rows` states limits of single positions, and this is read at one place
problem-limit-rows-one-hint = add `at`, or write the limit without rows
problem-path-no-limit = `path_length_mm` gives the light path of an opacity limit, but there is no such limit
problem-path-no-limit-hint = add `max_opacity_percent`, or delete `path_length_mm`
problem-unit-add-any = add `unit = "…"`

problem-limit-itself = the limit of `{ $id }` cannot depend on `{ $same }` itself
problem-limit-itself-hint = name measures above it, conditions and tables
problem-limit-each = this formula gives one limit for each { $one }, and `{ $id }` is not read there
problem-limit-each-hint = use `mean(…)`, `lowest(…)` and the like, or read it at the same positions
problem-formula-unexpected = `{ $text }` is not expected here
problem-formula-unexpected-hint = write an operator between two numbers, and close every parenthesis
problem-formula-before-hint = write a number, an id or a function before it
problem-formula-nothing = this formula names no reading
problem-formula-nothing-hint = name the ids of the measures that it is worked out from
problem-formula-extremes = this formula has too many extremes in it
problem-formula-extremes-hint = split it into measures that are judged each for itself
problem-formula-fraction = this formula gives a fraction, and the measure's unit is `%`
problem-formula-fraction-hint = write `100 * (…)`, or use the unit `1`
problem-formula-unit = this formula gives { $gives }, and the measure's unit is `{ $unit }`
problem-formula-unit-hint = give both the same unit, or convert with a factor
problem-formula-positions = `{ $id }` is read at other positions than the rest of this formula
problem-formula-positions-hint = use measures of one set of positions, or `mean(…)`, `lowest(…)` and the like
problem-formula-comma = a comma has no meaning in a formula
problem-formula-comma-hint = write a decimal point, such as 234.5; `spread(…)` and the like take one measure that is read at several positions
problem-formula-sign = `{ $text }` has no meaning in a formula
problem-formula-sign-hint = use numbers, ids in small letters, + - * / ^ and parentheses
problem-formula-deep = this formula is nested too deeply
problem-formula-deep-hint = work out a part of it as a measure of its own, and use that
problem-formula-early = this formula ends too early
problem-formula-early-hint = write a number, an id or a function after the last sign
problem-formula-number = `{ $text }` is not a number
problem-formula-number-hint = write it with one decimal point at most
problem-formula-open = a parenthesis is not closed
problem-formula-open-hint = add `)` where it ends
problem-formula-function = there is no table or function `{ $id }`
problem-formula-function-hint = there are { $list }
problem-formula-table = the table `{ $id }` is asked in { $from }, not in { $unit }
problem-formula-table-hint = give the measure the unit of the table
problem-formula-over = `{ $id }` takes the id of one measure
problem-formula-over-hint = write `{ $id }(…)` with the id of a measure that is read at several positions
problem-formula-single = `{ $function }` needs several positions, and `{ $id }` has one figure
problem-formula-single-hint = write `{ $id }` alone, or read it at several positions
problem-formula-none-above = write the measures that it is worked out from above it
problem-formula-may-name = it may name a measure with a figure above it, or a condition: { $list }
problem-formula-unknown = there is no measure or condition `{ $id }` for this formula
problem-formula-add = { $unit } and { $second } cannot be added or subtracted
problem-formula-add-hint = give both measures the same unit
problem-table-order = the first numbers of a table rise from row to row
problem-table-order-hint = sort the rows, and write each first number once; a table has at least two rows
problem-reserved = `{ $id }` is the name of a function in formulas
problem-reserved-hint = choose another id
problem-worked-out-key = `{ $key }` does not apply to a figure that is worked out
problem-worked-out-key-hint = delete it; it belongs with the measures that are read
problem-worked-out-itself = `{ $id }` cannot be worked out from itself
problem-worked-out-itself-hint = name the measures that it is worked out from
problem-least-read-each = `least_read` is of one figure, and this formula gives one for each { $one }
problem-least-read-each-hint = delete it: a position that was not read has no figure, and the others have theirs
problem-least-read-nothing = this formula takes nothing of all positions
problem-least-read-nothing-hint = delete `least_read`, or use `mean(…)`, `spread(…)` and the like
problem-least-read-sum = a sum of fewer positions is another figure
problem-least-read-sum-hint = delete `least_read`, or use `mean(…)`
problem-least-read-many = there are no { $number } { $many }, but { $count }
problem-least-read-many-hint = write how many must have been read at least
problem-behind-extreme = `{ $id }` follows the lowest, the highest or the greatest of several readings, which are not known behind its figure
problem-behind-extreme-hint = write out the formula of `{ $id }` here
problem-needs-condition = { $whose } needs the condition `{ $id }`, which this run lacks
problem-needs-condition-hint = add `{ $id }` under `[condition]`, with its unit and instrument
problem-not-worked-out = { $whose } cannot be worked out: { $why }
problem-not-worked-out-hint = check these readings, and the formula and its tables in limits.toml; a table is never read off beyond its ends
problem-off-table = the table `{ $id }` holds { $first } to { $last }, and was asked for { $number }
problem-no-number = the formula gives no number for these readings
problem-limits-cross = the limits of `{ $id }` come to at least { $least } and at most { $most } { $unit } in this run
problem-limits-cross-hint = check these readings, and the formulas and tables in limits.toml

problem-list-not-read = without the list of `{ $id }` before the work, nothing shows what is new after it
problem-list-not-read-hint = read the list, or delete `none_new` in limits.toml
problem-paired-count = `{ $id }` is paired, but the retest has { $after } repeats, the baseline { $before }
problem-paired-count-hint = write one value for each value of the baseline, in the same order, or delete `paired` in limits.toml
problem-paired-one = `{ $id }` is paired, but has only one value in each run
problem-paired-one-hint = write at least two `values` in both runs, or delete `paired` in limits.toml
problem-job-number-lines = the job's number has a line break or a tab
problem-job-number-lines-hint = write it on one line
problem-calibrated-between = `{ $id }` was calibrated between the runs, so its error need not be the same in both
problem-calibrated-between-hint = delete `common_error`, or correct `calibrated`
problem-hand-timed-hint = write `unit = "s"`, or delete `hand_timed`
problem-without-uncertainty = `{ $key }` is given without `uncertainty`
problem-without-uncertainty-hint = add `uncertainty`, or delete `{ $key }`
problem-no-common-error = `{ $id }` has no error that could be the same in both runs
problem-no-common-error-hint = add `accuracy`, `accuracy_percent_of_reading` or `uncertainty`, or delete `common_error`: resolution and hand timing never cancel
problem-read-worked-out = `{ $id }` is worked out from other readings, not read
problem-read-worked-out-hint = delete this reading; limits.toml has `{ $formula }` for it
problem-not-of-measure = `{ $key }` does not apply to the measure `{ $id }`
problem-reading-has = a reading of its kind has { $list }
problem-row-has = a row of its kind has { $list }
problem-value-or-values = use `value` for a single reading, `values` for repeats
problem-decimal-commas = these { $count } whole numbers look like { $half } with a decimal comma
problem-decimal-commas-hint = write a decimal point, such as 12.8; if they are whole numbers, write each as 12.0, with a space after every comma
problem-uncertainty-zero = an uncertainty cannot be zero
problem-uncertainty-zero-hint = write its expanded uncertainty, or name its instrument instead
problem-no-such-measure = limits.toml has no measure `{ $id }`
problem-it-has = it has { $list }
problem-meter-delete = delete it, or correct `meter` in job.toml
problem-meter-hours = use `h`, or correct `meter` in job.toml
problem-meter-distance = use `km` or `mi`, or correct `meter` in job.toml
problem-meter-any = use `h`, `km` or `mi`
problem-no-such-condition = limits.toml has no condition `{ $id }`
problem-no-such-condition-hint = add a `[[condition]]` there; it has { $list }
problem-condition-words = the condition `{ $id }` is in words
problem-condition-words-hint = write `text = "…"`, or give it a `unit` in limits.toml
problem-condition-value = the condition `{ $id }` needs a value and its unit
problem-condition-value-hint = write `{"{"} value = …, unit = "{ $unit }" {"}"}`
problem-ringelmann = a Ringelmann number is for grey or black smoke
problem-ringelmann-hint = write `colour = "grey"` or `"black"`; describe white or blue smoke with `opacity_percent` or `words`
problem-snaps-differ = the three accelerations differ by more than 5 % opacity
problem-snaps-differ-hint = go on until three in a row are within 5 %, and write those
problem-no-light = at this opacity no light is left, so it cannot be converted to another path or to k
problem-no-light-hint = delete `path_length_mm`, or measure over a shorter path
problem-path-differs = the light path is { $after } mm here and { $before } mm in the baseline; the same smoke is more opaque over a longer path
problem-path-differs-hint = state in limits.toml for which path the limit of `{ $id }` holds: `path_length_mm = …`
problem-path-missing = the baseline of `{ $id }` was measured over a path of { $before } mm, but the path length is missing here
problem-path-missing-hint = add `path_length_mm = …` here: the same smoke is more opaque over a longer path
problem-path-only-here = the baseline of `{ $id }` has no `path_length_mm`
problem-path-only-here-hint = add it to baseline.toml, or delete it here
problem-price-currency = the price has no currency
problem-estimate-currency = the estimate has no currency
problem-add-cost = add `[cost]` with `currency` and `total`
problem-part-costs-more = this part alone cost more than was charged for all
problem-part-costs-more-hint = correct the price, or `parts` and `total` under `[cost]`
problem-whose-estimate = this does not say whose estimate it is
problem-whose-estimate-hint = add `estimate_by = "…"`

problem-too-many-entries = there are more than { $most } entries here
problem-too-many-entries-hint = keep those that the plan names
problem-key-unknown = the key `{ $key }` is unknown
problem-key-unknown-hint = the known keys here are { $list }
problem-not-a-choice = this is not a value for `{ $name }`
problem-too-many = `{ $name }` has { $length } entries
problem-too-few = `{ $name }` has only { $length } { $what }, and needs { $least }
problem-number-infinite = `{ $name }` is not a finite number
problem-number-infinite-hint = write what the instrument showed; leave out the reading if there was none
problem-only-reads = this program only reads { $version }
problem-day-with-time = `{ $name }` is a date without a time of day
problem-day-with-time-hint = write it as 2026-03-05
problem-no-offset = `{ $name }` does not say how far the clock is ahead of UTC
problem-no-offset-hint = write { $moment }+01:00, with how far your clock is ahead of UTC in place of +01:00
problem-no-offset-all = write date, time and offset from UTC, such as 2026-03-05T06:40:00+01:00

problem-wrong-type = `{ $name }` is { $found }, not { $wants }
problem-type-text = text
problem-type-number = a number
problem-type-answer = true or false
problem-type-moment = a date or time
problem-type-list = a list
problem-type-table = a table
problem-type-keys = a table of keys
problem-type-brackets = a list between `[` and `]`
problem-type-day = a date, such as 2026-03-05, without quotes
problem-type-time = a time, such as 2026-03-05T06:40:00+01:00, without quotes
problem-type-quoted = text between quotes
problem-type-whole = a whole number
problem-type-number-or-name = a number, or a name between quotes
problem-type-write = write { $wants }
problem-type-unquote = remove the quotes: { $name } = { $digits }
problem-type-point = write the number without quotes and with a decimal point
problem-type-value-unit = write { $name } = {"{"} value = …, unit = "…" {"}"}
problem-type-its-keys = write { $name } = {"{"} { $key } = … {"}"}; its keys are { $list }
problem-type-header = write its header with single brackets: `[…{ $name }]`, not `[[…{ $same }]]`
problem-type-values = several readings of one thing are written `values = [ 5.6, 5.7 ]`; of a condition or a meter, write one number
problem-type-only-number = write only the number, without quotes, ~, unit or currency
problem-type-list-even-one = write { $name } = ["…"], even for a single entry
problem-type-list-or-tables = write { $name } = [ … ], or `[[{ $same }]]` for a list of tables
problem-moment-shape = write a date as 2026-03-05, and a time as 2026-03-05T06:40:00+01:00: year, month, day, and how far your clock is ahead of UTC
problem-unquoted = { $what }, without quotes
problem-moment-day = write { $date }: year, month, day

problem-slip-reading-twice = this reading is there twice
problem-slip-reading-twice-hint = keep one of the two; repeats of one reading are a list: `values = [ … ]`
problem-slip-header-twice = this header is there twice
problem-slip-header-twice-hint = if there are several of a kind, give each a header with double brackets, such as `[[instrument]]` or `[[measure]]`
problem-slip-key-twice = this key is there twice
problem-slip-key-twice-hint = keep one of the two and delete the other
problem-slip-header-space = a name between brackets has a space in it
problem-slip-header-space-hint = write the short name (`id`) as the other file has it, with hyphens: `[{ $name }]`
problem-slip-quotes = these are not the quotation marks of the keyboard
problem-slip-quotes-hint = put text between straight double quotes, "; a word processor makes them curly
problem-slip-quotes-inside = there are quotation marks inside the text
problem-slip-quotes-inside-hint = use single ones inside: name = "the 'old' one"
problem-slip-plus-minus = the ± does not belong to the number
problem-slip-plus-minus-hint = write `{ $key } = { $digits }`; what it may be off by is known from the instrument, or goes on a line of its own: `uncertainty = …`
problem-slip-moment = this is not how a date or a time is written here
problem-slip-comma = a number has a comma in it
problem-slip-comma-hint = write a number with a decimal point and no separators, such as 2.1 or 1480.50
problem-slip-dash = this is a dash, not a minus sign
problem-slip-dash-hint = use the hyphen of the keyboard: `{ $key } = -{ $digits }`
problem-slip-answer = `{ $value }` is not one of the two answers
problem-slip-answer-hint = write `{ $key } = { $answer }`; the answers are `true` and `false`
problem-slip-gap = the number has a gap in it
problem-slip-gap-hint = write it in one piece: `{ $key } = { $digits }`
problem-slip-before = there is a sign before the number
problem-slip-before-hint = write what the instrument showed: `{ $key } = { $digits }`; more goes into `note`
problem-slip-behind = there is something behind the number
problem-slip-behind-hint = write the number alone, `{ $key } = { $digits }`, and its unit where units go: `unit = "{ $unit }"`
problem-slip-no-quotes = this text has no quotation marks
problem-slip-no-quotes-hint = write `{ $key } = "{ $value }"`
problem-not-utf-8 = this byte is not valid UTF-8 text
problem-not-utf-8-hint = save the file as UTF-8 in your editor
