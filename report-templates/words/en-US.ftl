### American English: what it says differently from en.ftl. Everything else is said as
### there.

date = { $month } { $day }, { $year }
label-more = The pages behind this one give every measurement with its uncertainty, the conditions of both runs, and the digests by which the input files can be recognized.
reservation-repeats = “{ $name }” was not read as often as was planned before the work; stopping early or going on can favor a result.
cost-labour = Labor
cost-labour-hours = Labor, { $hours }
sheet-colour = color, words
test-visible-smoke = Smoke judged by eye depends on light, wind and background. Its color hints at where it comes from, but cannot tell.
hazard-electricity = line voltage
caution-fire = Keep sparks and hot parts away from fuel and vapor, and have an extinguisher at hand.
caution-electricity = Line voltage and charged capacitors kill. Isolate, lock out, test for absence of voltage; work on them only if you are licensed to.
