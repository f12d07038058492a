### What intake says of what a person can type wrong in the form, as it says it in English.
### The form finds a sentence here, and says it in its own language: the message of the same
### name in the file of that language. What is not found stays in English.

problem-unit-unknown = the unit `{ $written }` is unknown
problem-did-you-mean = did you mean `{ $near }`?
problem-did-you-mean-text = did you mean "{ $near }"?
problem-did-you-mean-takes = did you mean "{ $near }"? It takes { $list }
problem-write-a-unit = write a unit such as `s`, `kPa`, `psi`, `V`, `°C` or `rpm`; samples/FORMAT.md lists all
problem-unit-pressure = the unit `{ $written }` says what the pressure is measured against
problem-unit-pressure-hint = write `unit = "{ $unit }"`, and `pressure = "{ $word }"` with the measure in limits.toml
problem-unit-other = `{ $written }` is a unit of { $of }, but { $whose } is { $what }
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
problem-instrument-other = the instrument `{ $id }` measures { $of }, not { $what }
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
