### American English: only the messages that differ from en.ftl.

date = { $month } { $day }, { $year }
reservation-repeats-differ = “{ $name }” was not read as often as planned before the work; stopping early or carrying on can favor a result.
reservation-attempts-differ = “{ $name }” was attempted more often in one run than in the other; stopping early or carrying on can favor a result.
cost-labour = Labor
cost-labour-hours = Labor, { $hours }
sheet-colour = color, description
test-visible-smoke = Smoke judged by eye depends on light, wind and background. Its color hints at where it comes from, but cannot settle it.
test-polarisation-index = A polarization index shows moisture and dirt in or on an insulation. It cannot show a fault between turns, nor insulation that is dry but cracked, and where the resistance after one minute is very high (above 5 GΩ by IEEE 43) it means little. A surge test and a close look would show those.
test-earth-continuity = Ground continuity cannot tell a whole conductor from one that hangs by a few strands, and pipes or frames in parallel can hide a broken one. It does not show that the supply disconnects in time. A test at high current with the parallel paths open, and one of the ground fault loop, would.
test-winding-resistance = Winding resistance changes with temperature, in copper by about 0.4 % per kelvin (0.2 % per °F): two figures compare only at the same winding temperature. It shows an open circuit or a bad joint, but a short between a few turns can hide in it, and it says nothing about the insulation to ground; a surge test and an insulation test would.
test-combustion-analysis = Combustion analysis cannot tell a wrong fuel supply or a worn nozzle from too little air or draft, and air that leaks into the flue dilutes what is measured. It holds for this firing rate, and does not show whether flue gas escapes into the room: a spillage test at the appliance would.
hazard-electricity = line voltage
caution-fire = Keep sparks and hot parts away from fuel and vapor, and have an extinguisher at hand.
caution-electricity = Line voltage and charged capacitors kill. Isolate, lock out, test for absence of voltage; work on them only if you are licensed to.
