### American English: only the messages that differ from en.ftl.

date = { $month } { $day }, { $year }
reservation-repeats-differ = “{ $name }” was not read as often as planned before the work; stopping early or carrying on can favor a result.
reservation-attempts-differ = “{ $name }” was attempted more often in one run than in the other; stopping early or carrying on can favor a result.
cost-labour = Labor
cost-labour-hours = Labor, { $hours }
sheet-colour = color, description
test-visible-smoke = Smoke judged by eye depends on light, wind and background. Its color hints at where it comes from, but cannot settle it.
hazard-electricity = line voltage
caution-fire = Keep sparks and hot parts away from fuel and vapor, and have an extinguisher at hand.
caution-electricity = Line voltage and charged capacitors kill. Isolate, lock out, test for absence of voltage; work on them only if you are licensed to.
