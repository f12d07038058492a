### Las palabras del informe y de la pantalla, en español.
###
### Un mensaje por línea o bloque; `{ $name }` lo rellena el programa. Los mensajes que
### empiezan por `label-` son palabras fijas que ponen las plantillas. Los términos son
### los de la sección «Words» de DEVELOPERS.md.

## The document

title = Informe de verificación de reparación { $number }: { $machine }
kind-of-report = Informe de verificación de reparación
job-number = Trabajo { $number }
head-issued = { $number }, emitido el { $issued }
head-issue = { $number }, edición { $issue } del { $issued }
reissued = La edición { $issue } sustituye a la edición { $before }: «{ $why }»
foot-seal = sello { $start }…
date = { $day } de { $month } de { $year }
moment = { $date }, { $clock } UTC{ $offset }
moment-local = { $date }, { $clock }
month-1 = enero
month-2 = febrero
month-3 = marzo
month-4 = abril
month-5 = mayo
month-6 = junio
month-7 = julio
month-8 = agosto
month-9 = septiembre
month-10 = octubre
month-11 = noviembre
month-12 = diciembre
serial = n.º de serie { $serial }
required = exigida
k-of-n = { $k } de { $n }
money = { $amount }{"\u00A0"}{ $currency }

## Fixed words of the templates

label-decimal = ,
label-page = página
label-of = de
label-end = Fin del documento
label-was-wrong = Qué se comunicó
label-was-done = Qué se hizo
label-still-wrong = Sin reparar
label-before = Antes
label-after = Después
label-how-receipt = Cómo comprobar este comprobante
label-to-watch = Qué vigilar
label-next = Qué sigue
label-reservations = Reservas
label-not-needed = No se compró: no hizo falta
label-also-measured = También medido, sin exigirse
label-key-better = mejor
label-nothing-left = No se anotó ninguna otra avería.
label-key-whisker = incertidumbre (95 %)
label-key-met = cumple su límite
label-key-not-met = no cumple
label-key-before = antes
label-key-after = después
label-key-limit = límite
label-key-inside = dentro del límite
label-limit = Límite
label-result = Resultado
label-date = Fecha
label-about = Datos del trabajo
label-complaint = El problema que refiere el cliente, completo
label-measures = Todas las mediciones
label-glance = Antes y después, de un vistazo
label-measures-note = Los valores se dan con su incertidumbre expandida (cobertura aproximada del 95 %). El cambio es la prueba final menos la inicial. Debajo de un resultado figura la probabilidad de que el valor verdadero esté dentro del límite; debajo de un recuento, el intervalo de confianza del 95 % para la proporción de intentos logrados.
label-measure = Medición
label-baseline = Prueba inicial
label-retest = Prueba final
label-change = Cambio
label-positions = Punto por punto

label-texts = Descrito con palabras
label-conditions = Las condiciones, una prueba junto a la otra
label-condition = Condición
label-window = Se considera equivalente
label-comparison = Final respecto de inicial
label-instruments = Instrumentos
label-instrument = Instrumento
label-kind = Tipo, número de serie
label-errors = Errores declarados
label-calibrated = Calibración
label-work = El trabajo realizado
label-interventions = Qué se hizo
label-attribution = A qué se atribuye el cambio
label-supplies = Piezas y fluidos
label-quantity = Cantidad
label-item = Concepto
label-amount = Importe
label-ruled-out = Descartado
label-also-found = También se encontró
label-run-in = Entre el trabajo y la prueba final
label-cost = Precio
label-photos = Fotos
label-rule = Cómo se juzgó
label-budgets = De dónde vienen las incertidumbres
label-budgets-note = Incertidumbres típicas en la unidad de la medición, cada una con su parte del total en tanto por ciento. Un cambio tiene fila propia cuando sus dos lecturas no son independientes. u: combinada; ν: grados de libertad de la parte estimada con repeticiones (∞: no hay tal parte); U: expandida, con una cobertura del 95 %. La U de un certificado con k = 2 (95,45 %) se convierte a esa misma cobertura.
label-budgets-positions = De varios puntos se muestra solo el de mayor incertidumbre.
label-reading = Lectura
label-components = Componentes
label-cannot-tell = Lo que las pruebas no permiten saber
label-cautions = Antes de que alguien repita estas pruebas
label-evidence = Cómo comprobar este informe
label-inputs = Archivos de entrada
label-file = Archivo
label-digest = SHA-256
label-size = Tamaño
label-place = En este PDF

## The customer's page

mark-verified = Verificado
mark-not-verified = Probado, no verificado
mark-broken = El registro sellado se cambió
mark-undecided = No concluyente
headline-verified = { $count ->
    [one] La medición exigida cumple ahora su límite.
    [2] Las dos mediciones exigidas cumplen ahora sus límites.
    [3] Las tres mediciones exigidas cumplen ahora sus límites.
    [4] Las cuatro mediciones exigidas cumplen ahora sus límites.
    [5] Las cinco mediciones exigidas cumplen ahora sus límites.
   *[other] Las { $count } mediciones exigidas cumplen ahora sus límites.
}
headline-not-verified = { $count ->
    [one] Una medición exigida no cumple su límite.
    [2] Dos mediciones exigidas no cumplen sus límites.
    [3] Tres mediciones exigidas no cumplen sus límites.
   *[other] { $count } mediciones exigidas no cumplen sus límites.
}
headline-not-improved = { $count ->
    [one] No se alcanzó una mejora exigida.
    [2] No se alcanzaron dos mejoras exigidas.
   *[other] No se alcanzaron { $count } mejoras exigidas.
}
headline-not-shown = { $count ->
    [2] Dos mediciones exigidas no cumplen su límite o no alcanzan la mejora exigida.
   *[other] { $count } mediciones exigidas no cumplen su límite o no alcanzan la mejora exigida.
}
headline-verified-conditional = { $count ->
    [one] La medición exigida cumple ahora su límite, con reserva.
    [2] Las dos mediciones exigidas cumplen ahora sus límites, con reserva.
    [3] Las tres mediciones exigidas cumplen ahora sus límites, con reserva.
    [4] Las cuatro mediciones exigidas cumplen ahora sus límites, con reserva.
    [5] Las cinco mediciones exigidas cumplen ahora sus límites, con reserva.
   *[other] Las { $count } mediciones exigidas cumplen ahora sus límites, con reserva.
}
headline-undecided-unknown = No se puede demostrar que las dos pruebas fueran equivalentes; el resultado queda abierto.
headline-undecided-harder = La prueba final se hizo en condiciones más exigentes; el resultado queda abierto.
headline-broken = No confíe en este informe hasta que eso se aclare.
headline-undecided = Estas pruebas no dan un resultado claro.
headline-undecided-worse = Una medición exigida empeoró; el resultado queda abierto.
headline-undecided-conditions = La prueba final no fue comparable; el resultado queda abierto.
weakest-never = Los límites no constan en un registro sellado antes del trabajo.
weakest-late = Los límites constan en un registro sellado solo con el trabajo ya empezado.
weakest-changed = El registro sellado se cambió antes del trabajo.
weakest-changed-late = El registro sellado se cambió con el trabajo ya empezado.
weakest-retest-changed = Las lecturas finales se cambiaron después de selladas.
weakest-retest = Las lecturas finales no están selladas.
weakest-clock = La hora del sello se introdujo a mano.
weakest-no-conditions = No se comparó ninguna condición.
lead-figure = { $name }: { $before } antes del trabajo, { $after } después.
settle-conditions = Una prueba final en condiciones como las de la inicial aclararía el resultado.
settle-worse = Primero hay que averiguar por qué empeoró.
settle-measurement = Un instrumento más exacto o más repeticiones podrían aclararlo.
settle-instrument = Un instrumento más exacto podría aclararlo; más repeticiones, no.
settle-variation = Un registro de cuánto varía esta máquina de una prueba a otra podría aclararlo.
lead-matched = Las condiciones que importan fueron equivalentes en ambas pruebas.
lead-harder = La prueba final se hizo en condiciones más severas ({ $names }), de modo que la comparación queda del lado de la seguridad.
more-items = { $count ->
    [one] Hay un punto más en las páginas siguientes.
   *[other] Hay { $count } puntos más en las páginas siguientes.
}
more-figures = { $count ->
    [one] Hay una medición más en la tabla de todas las mediciones.
   *[other] Hay { $count } mediciones más en la tabla de todas las mediciones.
}
also-repaired = También se encontró y se reparó: { $what }
come-back = Corresponde una prueba de seguimiento hacia el { $day }: acuérdela con el taller.
follow-up-was = La revisión estaba prevista para el { $day }; ese día ya había pasado al emitirse este informe.
call = Consultas o problemas: { $call }.
not-needed-estimate = { $what } (habría costado { $amount }, según estimación de { $by })
verdict-applies-to = El dictamen vale solo para esta máquina en esta prueba final. No dice cuánto durará la reparación.
figure-at = { $name }: { $before } → { $after }
repeats = cada lectura: { $before } antes; { $after } después
repeats-before = cada lectura antes: { $before }
repeats-after = cada lectura después: { $after }
fact-before = Medida antes del trabajo
fact-after = Medida después
fact-serial = Número de serie
fact-order = pedido o reclamación { $order }
fact-not-seen = Sin testigo indicado
fact-seen = Testigo: { $names }
work-warranty = Garantía del trabajo
run-place = Lugar
part-price = { $quantity } · { $price }
calibration-certificate = certificado { $number }
receipt-must-show = Su comprobante debe mostrar esta huella:
behind-in-report = { $text }: en el informe.
behind-cannot-tell = Lo que estas pruebas nunca pueden decir
condition-figures = { $name } ({ $before } → { $after })
file-baseline = las lecturas anteriores al trabajo ({ $file })
file-retest = las lecturas posteriores al trabajo ({ $file })
file-limits = los límites ({ $file })
file-job = máquina, queja e instrumentos ({ $file })
file-work = el trabajo hecho ({ $file })
more-reservations = { $count ->
    [one] Una reserva más
   *[other] { $count } reservas más
}
holds-unless = Si esta máquina puede variar por sí sola más de { $amount } de una prueba a otra, el resultado de «{ $name }» puede no mantenerse: no se midió cuánto varía.
holds-unless-share = Si esta máquina puede variar por sí sola más de { $amount } (el { $share } del valor inicial) de una prueba a otra, el resultado de «{ $name }» puede no mantenerse: no se midió cuánto varía.
holds-not-counted = No se sabe cuánto varía por sí sola esta máquina de una prueba a otra, y esa variación no se cuenta en el resultado de «{ $name }».
signs-for-shop = Por el taller: { $name }
signs-for-customer = Recibe una copia: { $name }
positions-inside = { $name }, { $many } dentro del límite
positions-each = cada uno: { $limit }
smoke-opacity-over = { $name }, opacidad en { $path } de recorrido óptico
smoke-opacity = { $name }, opacidad
smoke-absorption = { $name }, coeficiente de absorción luminosa k
smoke-clear = { $name }, tiempo hasta que desaparece
strip-alt = { $name }: antes { $before }, después { $after }, límite { $limit }.

## Reasons

reason-fails = «{ $name }» no cumple su límite.
reason-fails-at = «{ $name }» no cumple su límite: { $at }.
reason-inconclusive = El resultado de «{ $name }» no es concluyente: la distancia a su límite es menor que la incertidumbre de la medición.
reason-too-coarse = «{ $name }» no es concluyente: sus límites están más juntos que el doble de la incertidumbre de medida; el instrumento no es lo bastante fino para ellos.
reason-variation-not-known = «{ $name }» mejoró tanto como se exigía, pero una variación de una prueba a otra tan pequeña como la incertidumbre de medida anularía esa mejora, y no se sabe cuánto varía esta máquina.
reason-improvement-absent = «{ $name }» no mejoró tanto como se exigía.
reason-improvement-absent-worse = «{ $name }» empeoró, aunque se exigía una mejora.
reason-no-improvement-shown = La mejora exigida de «{ $name }» no queda demostrada: no se aprecia ningún cambio, o no se puede calcular su porcentaje.
reason-not-taken = «{ $name }» no se leyó en la prueba final: { $why }.
reason-not-taken-at = «{ $name }» no se leyó en la prueba final ({ $at }): { $why }.
reason-got-worse = «{ $name }» empeoró y no está claramente dentro de su límite.
reason-condition-easier = La prueba final se hizo en condiciones más favorables que la inicial: { $names }. Un resultado mejor puede deberse a ello.
reason-condition-unknown = No se puede comparar: { $names } (falta el dato en alguna de las pruebas, no se midió con exactitud suficiente o difiere sin que se sepa con qué efecto).
reason-condition-harder = La prueba final se hizo en condiciones más exigentes que la inicial: { $names }. No superarla en esas condiciones no demuestra nada.
reason-not-cold = La máquina no estaba fría en la prueba final: { $name } estaba más de 7 K (12,6 °F) por encima de la temperatura ambiente.
reason-nothing-required = No se marcó ninguna medición como exigida; no hay nada que verificar.

## Reservations

look-again = Compruébelo antes de sellar:
reservation-conditional-pass = «{ $name }» cumple su límite por menos que la incertidumbre de la medición: cumple con reserva.
reservation-fault-not-shown = Las mediciones exigidas ya cumplían sus límites antes del trabajo, y ninguna mejoró: estas pruebas no mostraron la avería.
reservation-other-outside = «{ $name }» no cumple su límite; el dictamen no depende de ello.
reservation-other-worse = «{ $name }» empeoró; el dictamen no depende de ello.
reservation-worse-within-limit = «{ $name }» empeoró, pero sigue claramente dentro de su límite.
reservation-not-as-it-should = «{ $name }» cumple lo exigido, pero no lo que además se recomienda (su límite recomendado).
reservation-variation-not-known = «{ $name }» mejoró, pero una pequeña variación de la máquina de una prueba a otra anularía esa mejora, y no se sabe cuánto varía.
reservation-scatters-differ = La dispersión de las repeticiones de «{ $name }» no es la misma antes y después del trabajo; la de cada prueba se usa solo para ella.
reservation-scatter-exceeds-stated = Las repeticiones de «{ $name }» se dispersan más que la variación declarada de una prueba a otra; se cuentan las dos.
reservation-stands-out = Una repetición de «{ $name }» se aparta de las demás. Se cuenta como ellas; compruebe si está bien anotada.
reservation-decimal-point = Una lectura de «{ $name }» es unas diez veces mayor, o menor, que las demás. Se cuenta; compruebe la coma decimal.
reservation-implausible-condition = «{ $name }» está fuera del intervalo en que puede estar una máquina. Compruebe el valor y su unidad.
reservation-other-condition = Las pruebas difieren, o no se pueden comparar, en una condición que no se exigía: { $name }.
reservation-no-conditions = No se eligieron condiciones que comparar; este informe no puede decir si las dos pruebas fueron equivalentes.
reservation-uncertainty-not-counted = Con la regla de decisión «simple», la incertidumbre no se cuenta en los límites: cerca de un límite, un valor cumple o no por azar.
reservation-calibration-overdue = El instrumento «{ $instrument }» se usó con la calibración vencida; vencía el { $due }.
reservation-baseline-not-cold = La máquina no estaba del todo fría en la prueba inicial: { $name } estaba más de 7 K (12,6 °F) por encima de la temperatura ambiente. Un arranque más frío habría sido más severo.
reservation-retest-not-cold = La máquina no estaba del todo fría en la prueba final: { $name } estaba más de 7 K (12,6 °F) por encima de la temperatura ambiente. Una máquina caliente arranca con más facilidad.
reservation-short-soak = La máquina estuvo parada menos de 8 horas antes de la prueba final.
reservation-scatter-not-known = En el cambio de «{ $name }» no se cuenta el error común del instrumento, y no hay repeticiones que muestren la dispersión de las lecturas: la incertidumbre indicada es un mínimo.
reservation-battery-not-recorded = De la tensión de la batería y la velocidad de giro en el arranque, ninguna consta en las dos pruebas. Una batería mejor basta para acortar «{ $name }».
reservation-condition-helped = Dentro de lo que cuenta como equivalente, pero algo más favorable en la prueba final: { $name }. Parte de un resultado mejor puede deberse a ello.
reservation-calibrated-later = El instrumento «{ $instrument }» se calibró después de usarse; su certificado no cubre estas lecturas.
capture-after-work-started = La foto «{ $caption }» es de la prueba inicial, pero su cámara indica { $taken }, después de empezar el trabajo ({ $against }).
capture-before-work-ended = La foto «{ $caption }» es de la prueba final, pero su cámara indica { $taken }, antes de terminar el trabajo ({ $against }).
capture-days-away = La foto «{ $caption }» se tomó a días de distancia de su prueba: su cámara indica { $taken }; fecha de la etapa «{ $stage }»: { $against }.
capture-no-zone = La cámara no indica zona horaria; por eso se admitió un día de diferencia.
capture-several = { $count } fotos tienen horas de cámara que no encajan con su prueba; «Cómo se juzgó» enumera cada una con ambas horas.
issued-before-retest = La prueba final lleva fecha posterior a la de este informe.
reservation-meter-backwards = El contador de la máquina marca menos en la prueba final que en la inicial.
reservation-meter-behind-run-in = El contador de la máquina subió menos que el rodaje registrado.
reservation-repeats-differ = «{ $name }» no se leyó tantas veces como se había previsto antes del trabajo; parar antes o seguir midiendo puede favorecer un resultado.
reservation-not-taken-before = «{ $name }» no se leyó, o no en todos los puntos, antes del trabajo: se muestra si ahora cumple su límite, pero no un cambio.
reservation-also = Lo mismo vale para: { $names }.
idle-limits = Tan amplio que nada habría podido incumplirlo: { $names }. Cumplirlo no demuestra nada.
reservation-attempts-differ = «{ $name }» se intentó más veces en una prueba que en la otra; parar antes o seguir puede favorecer un resultado.
reservation-graded-by-others = Los grados los apreció una persona antes del trabajo y otra después: dos personas pueden apreciar lo mismo con grados distintos.
left-out-over = { $at } (con { $read } de { $of } { $many })
reservation-left-out-after = En la prueba final, «{ $name }» se calcula sin lo que no se leyó: { $after }.
reservation-left-out-before = En la prueba inicial, «{ $name }» se calcula sin lo que no se leyó: { $before }.
reservation-left-out-both = «{ $name }» se calcula sin lo que no se leyó: en la prueba inicial { $before }; en la final { $after }.
reservation-worse-at = «{ $name }» está peor que antes en algún punto ({ $at }), aunque el conjunto no muestra un empeoramiento.

## Limits, zones, changes

limit-at-most = máximo { $max }
limit-at-least = mínimo { $min }
result-not-relied-on = sin valor
result-not-alike = dentro de su límite, pero no en condiciones equivalentes
limit-all = todos ({ $count })
limit-exactly = exactamente { $value }
limit-between = de { $min } a { $max }
limit-and = {" "}y{" "}
limit-lower-by = reducción mínima respecto de la inicial: { $amount }
limit-higher-by = aumento mínimo respecto de la inicial: { $amount }
limit-passes = { $count ->
    [one] mínimo 1 logrado
   *[other] mínimo { $count } logrados
}
pressure-gauge = Presión relativa (manométrica)
pressure-absolute = Presión absoluta
pressure-difference = Presión diferencial
limit-grade = { $least } o mejor
limit-list-empty = nada almacenado
limit-list-none-new = nada nuevo
limit-none = ninguno
limit-source = { $limit } ({ $source })
limit-within-percent = { $range } (tolerancia del { $percent })
limit-came-to = { $formula } = { $figure }
limit-came-to-each = { $formula } (antes del trabajo { $before }, después { $after })
limit-each-run = { $before } antes del trabajo, { $after } después
limit-and-before = { $limit }; antes del trabajo { $before }
limit-should = { $limit } (recomendado: { $should })
limit-as-printed = { $limit } (según figura en el manual: «{ $printed }»)
advisory = límite recomendado: { $outcome }
gain = mejora exigida: { $outcome }
change-improved = mejoró
change-apparent = mejor, pero en condiciones no equivalentes
change-none = sin cambio apreciable
change-worsened = empeoró
change-common = sin el error común
change-holds = se mantiene salvo que dos pruebas difieran en más de ±{ $amount }
change-holds-share = se mantiene salvo que dos pruebas difieran en más de ±{ $amount } ({ $share })
limit-holds = se mantiene salvo que dos pruebas difieran en más de ±{ $amount }
change-paired = { $pairs } pares, prueba de rangos con signo: p { $p }
change-paired-few = { $pairs } pares, demasiado pocos para una prueba de rangos
change-inside = cambió, dentro de sus límites
change-outside-inside = estaba fuera de sus límites, ahora dentro
change-came-inside = pasó a estar dentro de sus límites, pero no con claridad
change-went-outside = pasó a estar fuera de sus límites, pero no con claridad
change-neither = cambió, pero sigue fuera de sus límites
change-some-moved = hubo cambios, ninguno claramente a mejor ni a peor
change-too-few-attempts = intentos insuficientes para mostrar un cambio
change-too-few-positions = son muy pocos para mostrar un cambio
change-other-positions = no se compara: no son las mismas posiciones
change-too-few-events = se contaron muy pocos para mostrar un cambio
step-better = mejor que antes
step-same = igual que antes
step-worse = peor que antes
rate = { $rate } por { $per }
rate-name = { $name } (por { $per })
rate-read = { $rate } ({ $count } en { $over })
rate-counted = { $count } en { $over }
rate-interval = intervalo del 95 % después: de { $low } a { $high } por { $per }; prueba exacta de igualdad de tasas, p { $p }
list-stored = { $count ->
    [0] nada almacenado
    [one] 1 código
   *[other] { $count } códigos
}
list-empty = nada almacenado
list-result = desaparecidos: { $gone }; siguen: { $still }; nuevos: { $new }
list-gone = { $name }: desaparecidos
list-still = { $name }: siguen
list-new = { $name }: nuevos
see-texts = códigos: véase «Descrito con palabras»
bands-in-short = { $before } → { $after }
bands-in-full = antes { $before }; después { $after }
band-share = { $name } { $p }
band-up-to = { $name } hasta { $end }
band-above = { $name } por encima
bands-planned = Zonas de «{ $name }»: { $bands } ({ $source }). No son un límite. La probabilidad de cada una es la del valor verdadero, dadas la lectura y su incertidumbre.
outcome-pass = cumple
outcome-conditional-pass = cumple con reserva
outcome-inconclusive = no concluyente
outcome-fail = no cumple
outcome-no-limit = a título informativo
probability = dentro del límite: { $p }
count-interval = proporción de logrados después: del { $low } al { $high } %
not-taken = sin lectura
not-taken-before = sin lectura antes del trabajo: { $why }
position-not-taken = sin lectura en la prueba final: { $why }
cylinder-one = cilindro
cylinder-many = cilindros
cylinder-called = cilindro { $name }
position-called = { $one } { $name }
points-called = { $what } { $settings }
point-many = puntos
positions-called = { $one } { $names }
limit-or-own = { $limit }, salvo donde una posición tiene su propio límite
limit-own = cada uno con su límite
see-positions = véase «Punto por punto»
read-with = Con { $ids }
plain-id = { $id }
overdue-id = { $id } (calibración vencida)

## The desk's pages

about-customer = Cliente
about-machine = Máquina
about-identity = Marca, modelo, serie
about-details = Detalles
about-received = Recepción
run-baseline = prueba inicial
run-retest = prueba final
run-both = ambas
run-change = cambio
run-note = { $run }: { $note }
shown-in = { $file }
shown-in-at = { $file }, minuto { $time }
cannot-tell-film-of = Lecturas que se ven en una grabación
cannot-tell-film = La grabación en la que se ve una lectura se nombra junto a ella. Una toma sin cortes muestra que una cosa siguió a la otra, y que la lectura estaba a la vista. No puede mostrar qué se hizo antes de que empezara, cómo estaba ajustado o conectado el instrumento, ni que no se grabara de nuevo; su sello muestra solo que el archivo no se ha cambiado desde entonces.
run-started = Inicio
run-ended = Fin
run-by = Realizada por
run-witness = Testigo
run-meter = Contador
fact-work = Trabajo
run-remark = Observación
not-recorded = no consta
window = diferencia de hasta { $window }
window-same = el mismo texto
condition-matched = equivalente
condition-harder = más severa
condition-easier = más favorable
condition-unknown = sin determinar
condition-concerns = { $name } (para { $measures })
error-both = ±({ $percent } de la lectura + { $fixed })
error-percent = ±{ $percent } de la lectura
error-fixed = ±{ $fixed }
error-resolution = resolución { $step }
error-hand = cronometraje manual, u = { $u }
error-stated = certificado: U = { $u }, k = { $k }
calibration-none = no consta
calibration-due = vence el { $due }
calibration-overdue = vencida desde el { $due }
chart-alt = { $name } por { $one }, antes y después{ $unit ->
    [none] {""}
   *[other] , en { $unit }
}; límite { $limit }. { $each }.
chart-alt-position = { $position }: { $before }, luego { $after }
chart-alt-position-limit = { $position }: { $before }, luego { $after } (límite: { $limit })

balance-note = Máximo menos mínimo: { $spread_before } antes, { $spread_after } después. Se apartan de los demás ({ $many }): antes, { $out_before }; después, { $out_after } (puntuación z modificada mayor que 3,5).
balance-few = Máximo menos mínimo: { $spread_before } antes, { $spread_after } después. Con tan pocos valores ({ $many }), de ninguno se puede decir que se aparte.
balance-none = ninguno
position-together = { $note } Cambios: { $tie }.
paired-note = { $many }, cuántos cumplen ahora y antes no: { $gained }; cuántos han dejado de cumplir: { $lost } (prueba exacta de McNemar, p = { $p }).
paired-too-few = { $many }, cuántos cumplen ahora y antes no: { $gained }; cuántos han dejado de cumplir: { $lost }. Con tan pocos ({ $count }) ningún resultado podría mostrar un cambio: aunque hubieran cambiado todos, p sería { $smallest }, y debe ser menor que 0,05.
sign-note = { $many }, cuántos están mejor que antes: { $better }; cuántos peor: { $worse } (prueba exacta de los signos de los que cambiaron, bilateral, p { $p }).
sign-too-few = { $many }, cuántos están mejor que antes: { $better }; cuántos peor: { $worse }. Con tan pocos no se puede mostrar un cambio: aunque todos hubieran mejorado, p sería { $smallest }, y debe ser menor que 0,05.

## The work

work-about = Por { $by }, desde el { $started } hasta el { $finished }.
attribution-one = Entre las dos pruebas consta una sola cosa hecha: { $what }. El cambio vino después de ella.
attribution-several = Entre las dos pruebas se hicieron o repararon { $count ->
    [2] dos cosas
    [3] tres cosas
    [4] cuatro cosas
    [5] cinco cosas
    [6] seis cosas
   *[other] { $count } cosas
}. El cambio se atribuye al trabajo en su conjunto; no se ha demostrado que una de sus partes por sí sola sea la causa del cambio.
part-number = { $name }, { $number }
finding-repaired = Reparado
finding-left = Dejado como está
run-in-none = No consta nada.
run-in-starts = { $count ->
    [one] { $count } arranque
   *[other] { $count } arranques
}
cost-labour = Mano de obra
cost-labour-hours = Mano de obra, { $hours }
cost-parts = Piezas y fluidos
cost-rest = Impuestos y otros
cost-total = Total cobrado
stage-work = trabajo
photo-during-work = durante el trabajo
photo-caption = { $caption } ({ $stage })

## How this was judged

verdict-verified = Verificado: todas las mediciones exigidas cumplen su límite, se alcanzan todas las mejoras exigidas, ninguna medición exigida empeoró salvo que siga claramente dentro de su límite, y ninguna condición exigida fue más favorable ni quedó sin determinar.
verdict-not-verified = No verificado: al menos una medición exigida no cumple su límite, o queda demostrado que no se alcanzó una mejora exigida.
verdict-undecided = No concluyente: no queda demostrado que algo de lo exigido falle en condiciones no más exigentes que las iniciales, pero tampoco que se cumpla todo.
rule-simple = Regla de decisión «simple»: un valor en su límite o dentro de él cumple; cualquier otro, no. La incertidumbre no se cuenta.
rule-guarded = Regla de decisión «guarded» (con banda de guarda): un valor cumple solo si está dentro de su límite con un margen igual o mayor que su incertidumbre. Más cerca del límite, por dentro («cumple (condicional)») o por fuera («no cumple (condicional)»), el resultado no es concluyente; más allá, no cumple.
rule-four-zone = Regla de decisión «four-zone» (de cuatro zonas; ILAC-G8:09/2019, 4.2.3): dentro del límite con un margen igual o mayor que la incertidumbre, «cumple»; dentro con un margen menor, «cumple (condicional)», que cuenta como «cumple con reserva»; fuera sin superar la incertidumbre, «no cumple (condicional)», que cuenta como «no concluyente»; más allá, «no cumple». Un valor exactamente en el límite está dentro. Entre dos límites más juntos que el doble de la incertidumbre, un valor que está dentro es «cumple (condicional)» si es más probable que esté dentro que fuera.
rule-uncertainty = La incertidumbre de una lectura combina la exactitud (error máximo permitido) y la resolución declaradas del instrumento, el cronometraje manual, la apreciación a ojo y la dispersión de las repeticiones (JCGM 100:2008). La dispersión se estima una sola vez, con todas las repeticiones de antes y después del trabajo, y vale también para lecturas únicas; si se sabe cuánto varía la máquina de una prueba a otra, ese dato ocupa su lugar. Se da como incertidumbre expandida U, con una cobertura aproximada del 95 %. Lo estimado con pocas repeticiones se expande aparte, con la t de Student, para que unas repeticiones que coinciden por azar no cuenten como certeza.
rule-change = Se dice que una medición mejoró o empeoró solo si el cambio es mayor que su propia incertidumbre, a la que se suma medio escalón de la pantalla.
rule-variation-stated = «{ $name }» varía de una prueba a otra con una desviación típica de { $deviation }, declarada de antemano (fuente: { $source }). Se cuenta en las dos lecturas.
rule-separate-runs = Cada valor de «{ $name }» procede de una prueba distinta; su dispersión muestra cuánto varía la máquina de una prueba a otra.
rule-variation-unknown = No se sabe cuánto varían de una prueba a otra { $names }, y esa variación no se cuenta; las repeticiones dentro de una misma prueba no la muestran. Junto a cada cambio y cada resultado figura cuánto tendrían que diferir por sí solas dos pruebas en condiciones equivalentes para que dejara de sostenerse.
rule-independent = Los errores de las dos pruebas se tratan como independientes.
rule-paired = Las { $pairs } repeticiones de «{ $name }» están emparejadas, cada una de antes con una de después: la dispersión de sus diferencias da la repetibilidad del cambio, s/√n con n − 1 grados de libertad.
rule-paired-test = Se indica además la prueba de rangos con signo de Wilcoxon (exacta, bilateral), que no decide nada: { $used } pares que difieren, sumas de rangos { $rises } hacia arriba y { $falls } hacia abajo, p { $p } (sin los pares que no difieren; a los empates se les da su rango medio).
rule-paired-few = Con tan pocos pares, la prueba de rangos con signo de Wilcoxon nunca puede dar una p menor que 0,05: aunque los { $used } que difieren hubieran variado en el mismo sentido, p sería { $smallest }. Por eso se omite.
rule-paired-none = Ningún par difiere; no hay prueba de rangos que hacer.
rule-otherwise-independent = Por lo demás, los errores de las dos pruebas se tratan como independientes.
rule-common = En el cambio de { $names }, y solo ahí, el error de «{ $instrument }» se trata como el mismo en ambas pruebas, por esta razón: «{ $reason }». Su parte fija se anula; de una parte proporcional a la lectura queda solo la que corresponde al cambio. En un límite, el error se cuenta entero.
rule-path-converted = La opacidad de «{ $name }» se midió antes como { $before } en un recorrido óptico de { $before_path }, y después como { $after } en { $after_path }, y se convirtió a los { $path } para los que vale su límite: N₂ = 1 − (1 − N₁)^(L₂/L₁), como en 40 CFR 86.884-14. Su incertidumbre se propaga en primer orden.
rule-path-unlike = La opacidad de «{ $name }» se midió en un recorrido óptico de { $before_path } antes y de { $after_path } después. El mismo humo es más opaco en un recorrido más largo, y no se fijó ninguno de antemano; por eso no se comparan las dos opacidades, sino el coeficiente de absorción luminosa, que no depende del recorrido.
rule-agreed = Límites y regla de decisión: { $agreed }.
rule-agreed-limits = Límites: { $agreed }. No se indicó ninguna regla de decisión; se aplica la de arriba, que es la predeterminada.
rule-not-agreed = No consta ningún acuerdo sobre los límites y la regla de decisión.

quoted = «{ $name }»
worked-out-least = { $formula }, con las lecturas que hay, { $count } como mínimo
worked-out = Cálculo: { $formula }
over-sum = suma de { $name }
over-mean = media de { $name }
over-lowest = mínimo de { $name }
over-highest = máximo de { $name }
over-spread = máximo menos mínimo de { $name }
over-deviation = mayor desviación de { $name } respecto a su media
looked-up = tabla ({ $source }) en { $of }
budget-position = { $name }, { $position }
budget-part = { $source } { $u } ({ $share })
source-accuracy = exactitud
source-resolution = resolución
source-repeatability = repetibilidad
source-hand = cronometraje manual
source-by-eye = apreciación a ojo
source-run-to-run = de prueba a prueba
source-stated = declarada
source-worked-out = calculado a partir de varios, de los que cuenta uno
source-setting = ajuste del punto

## The worksheet

sheet-title = Hoja de trabajo { $number }: { $machine }
sheet-kind = Hoja de trabajo
sheet-before-work = Termine la prueba inicial, pásela a baseline.toml y séllela antes de que empiece cualquier trabajo.
sheet-alike = Antes de la prueba final, compare cada condición con la inicial. Si alguna es más favorable y la diferencia supera su margen, la prueba final no decide nada: espere y pruebe otro día.
sheet-all-digits = Use los mismos instrumentos y el mismo número de repeticiones y de intentos en ambas pruebas. Anote todas las cifras que se muestren, y cada intento, logrado o no.
sheet-photos = Fotografíe lo mismo desde el mismo sitio en ambas pruebas.
sheet-when = Cuándo
sheet-day = día
sheet-from = de
sheet-to = a
sheet-meter = Contador, si lo tiene
sheet-meter-unit = h · km · mi
sheet-hour-meter = Horómetro (cuentahoras)
sheet-odometer = Odómetro
sheet-odometer-unit = km · mi
sheet-lower-is-more-severe = { $window }; cuanto menor, más severa
sheet-higher-is-more-severe = { $window }; cuanto mayor, más severa
sheet-limit = Límite: { $limit }
sheet-instrument = Con: { $id }
sheet-instruments = Con (marque uno): { $ids }
sheet-mind = Precaución: { $hazards }
sheet-passed = logrados
sheet-bands = Zonas: { $bands } ({ $source })
sheet-counted = contados
sheet-counted-in = en
sheet-entry = código, texto
sheet-nothing-to-fill-in = no hay que rellenar nada
sheet-opacity = opacidad
sheet-path = recorrido óptico
sheet-clear = desaparece en
sheet-colour = color, descripción
label-sheet-runs = Las pruebas
label-sheet-conditions = Condiciones, antes de las pruebas
label-sheet-measures = Las mediciones
label-sheet-cautions = Precauciones
label-sheet-baseline = Prueba inicial, antes del trabajo
label-sheet-retest = Prueba final, después del trabajo
label-sheet-work = El trabajo: qué se hizo, recambios, fluidos, tiempo
label-sheet-note = Observaciones

## What each kind of test cannot tell (common practice, no published source)

test-cranking-time = El tiempo de arranque no distingue entre combustible, temperatura, compresión, motor de arranque y batería: cualquiera de ellos basta para alargarlo, y una batería mejor basta para acortarlo.
test-cranking-speed = La velocidad de giro en el arranque no distingue una batería, un cable o un motor de arranque débiles de un motor que gira con dificultad; un aceite más espeso basta para bajarla.
test-cranking-voltage = La tensión durante el arranque no distingue una batería débil de un motor de arranque que consume demasiado, ni de un motor que gira con dificultad.
test-running-contribution = Una prueba de contribución de los cilindros en marcha no distingue una compresión baja de un inyector débil.
test-relative-compression = La compresión relativa por la corriente de arranque compara los cilindros entre sí: no dice si todos están bajos por igual, ni por dónde pierde uno débil.
test-compression-pressure = La presión de compresión depende de la velocidad de giro en el arranque y de la temperatura. No distingue los segmentos (aros) de las válvulas o la junta, y no dice nada del combustible.
test-wet-compression-pressure = Una prueba de compresión húmeda (con aceite) no distingue los segmentos (aros) de la pared del cilindro, y el propio aceite ocupa sitio: en una cámara de combustión pequeña sube la presión sea cual sea el estado de los segmentos.
test-leak-down = Una prueba de fugas del cilindro se hace en reposo, con el pistón en una sola posición: no dice cómo cierra el cilindro en marcha. Las cifras de dos comprobadores distintos no se pueden comparar.
test-crankcase-pressure = La presión del cárter no distingue unos segmentos (aros) y cilindros gastados de un respiradero obstruido, de unas guías de válvula gastadas o de un turbocompresor con fugas hacia el cárter: lo distinguirían una prueba de fugas de cada cilindro y una lectura con el respiradero limpio y el retorno del turbocompresor aparte. Solo se puede comparar al mismo régimen, con la misma carga y el mismo orificio.
test-oil-pressure = La presión de aceite no distingue unos cojinetes gastados de un aceite fluido o caliente, ni de una bomba o una válvula de alivio débiles.
test-snap-acceleration-smoke = El humo en aceleración libre es humo sin carga: no distingue un exceso de combustible de una falta de aire, ni dice qué hace el motor con carga.
test-visible-smoke = El humo juzgado a ojo depende de la luz, el viento y el fondo. Su color orienta sobre su origen, pero no lo demuestra.
test-battery-load = Una prueba de descarga de la batería no distingue una batería gastada de una descargada o fría, ni dice cuánto durará.
test-voltage-drop = Una caída de tensión vale solo para la corriente que circulaba: no dice qué conexión de esa parte del circuito está mal, y sin carga no muestra nada.
test-insulation-resistance = La resistencia de aislamiento vale solo para esta temperatura, humedad y tensión de ensayo. No puede mostrar un fallo entre las espiras de un mismo devanado.
test-running-current = La corriente en marcha no distingue una máquina que gira con dificultad de una tensión de alimentación incorrecta o de un devanado que empieza a fallar.
test-load-step = Un escalón de carga prueba a la vez el motor, el regulador de velocidad y el regulador de tensión: no dice cuál de ellos es lento.
test-supply-pressure = Una presión de alimentación no distingue una bomba débil de una restricción antes del manómetro, de una fuga después de él o de un regulador ajustado bajo. Mientras nadie consume, no dice nada del caudal: lo dirían la presión con todo el consumo y el propio caudal.
test-suction-restriction = El vacío en el lado de aspiración no distingue un filtro obstruido de un conducto estrecho o aplastado, ni de un líquido frío y espeso o de un caudal mayor, y una fuga por la que entra aire puede ocultarlo todo. Lo distinguirían lecturas antes y después del filtro con un caudal conocido, y buscar burbujas.
test-pressure-hold = Una presión que se mantiene solo muestra que nada pierde más deprisa de lo que esta prueba puede detectar; un cambio de temperatura basta para hacerla variar. No dice dónde está una fuga.
test-leak-rate = Una tasa de fuga vale solo para la presión y la temperatura de la prueba: no distingue una fuga de varias, ni dice dónde están.
test-temperature-rise = Un aumento de temperatura depende de la carga y del caudal de aire: no distingue la fricción de una refrigeración deficiente o de una falta de lubricante.
test-vibration-level = Un nivel global de vibración no distingue entre desequilibrio, desalineación y daños de rodamientos o de engranajes, y un fallo incipiente de rodamiento apenas lo cambia.
test-sound-level = Un nivel sonoro depende del lugar, del local y de otras máquinas: no dice qué pieza hace el ruido.
test-backlash = El juego entre dientes no distingue unos dientes gastados de rodamientos, chavetas o ejes flojos, cuyo juego se suma, y medido en una posición no dice nada de los demás dientes ni de su contacto con carga. Lo dirían lecturas a lo largo de una vuelta entera, el juego de los rodamientos por separado y la huella de contacto.
test-superheat = El recalentamiento (sobrecalentamiento) por sí solo no distingue una falta de refrigerante de un dispositivo de expansión obstruido.
test-subcooling = El subenfriamiento por sí solo no distingue un exceso de refrigerante de una línea de líquido obstruida o de gases no condensables.
test-condenser-split = La diferencia de temperatura del condensador no distingue entre un condensador sucio, un caudal de aire insuficiente, un exceso de refrigerante y gases no condensables.
test-pull-down-time = El tiempo de bajada de temperatura depende del tiempo atmosférico, de la carga y de la puerta: no dice qué parte del circuito lo frenaba.
test-voltage-unbalance = El desequilibrio de tensiones no distingue una alimentación desigual de una mala conexión o de una carga desigual en el camino hasta la máquina: lo distinguirían dos lecturas, en la acometida y en los bornes de la máquina, ambas con carga. Cambia con todo lo demás que funcione en la misma red.
test-current-unbalance = El desequilibrio de corrientes no distingue una alimentación desigual de un fallo del devanado, porque un pequeño desequilibrio de tensiones produce uno varias veces mayor en las corrientes. Lo distinguirían las tensiones leídas en el mismo momento, o pasar los tres conductores al borne siguiente: lo que se queda en su fase de la red viene de la red.
test-winding-resistance = La resistencia de un devanado cambia con la temperatura, en el cobre alrededor de un 0,4 % por kelvin: dos cifras solo se pueden comparar a la misma temperatura del devanado. Muestra un circuito abierto o una mala conexión, pero un cortocircuito entre pocas espiras puede pasar inadvertido, y no dice nada del aislamiento a tierra; lo mostrarían un ensayo de onda de choque y uno de aislamiento.
test-polarisation-index = Un índice de polarización muestra humedad y suciedad en un aislamiento. No puede mostrar un fallo entre espiras ni un aislamiento seco pero agrietado, y cuando la resistencia al minuto es muy alta (más de 5 GΩ según IEEE 43) significa poco. Eso lo mostrarían un ensayo de onda de choque y una inspección minuciosa.
test-earth-continuity = La continuidad a tierra no distingue un conductor entero de uno que se sostiene por unos pocos hilos, y las tuberías o estructuras en paralelo pueden ocultar uno roto. No muestra que la alimentación se desconecte a tiempo. Lo mostrarían una prueba a corriente alta con los caminos paralelos abiertos y una del bucle de defecto a tierra.
test-leakage-current = La corriente de fuga no distingue un aislamiento que falla de los filtros y los cables largos de una máquina sana, ni dice por qué parte del circuito pasa: lo dirían la desconexión de las partes una a una o su resistencia de aislamiento. Depende de la tensión de alimentación, de la humedad y de lo que esté encendido.
test-illuminance = La iluminancia no distingue una lámpara débil de la suciedad, de una tensión baja o de una luminaria mal orientada: lo distinguirían limpiarla y medir la tensión en la lámpara. Vale para los puntos medidos y no dice nada del deslumbramiento; la luz del día se suma a ella si no se excluye.
test-flow-at-pressure = El caudal a una presión no distingue una bomba gastada de un accionamiento lento, de una aspiración obstruida o de un líquido más fluido por estar caliente: lo distinguirían la velocidad, el vacío de aspiración y la temperatura leídos a la vez. No dice nada de los demás puntos de la curva.
test-valve-setting = Un ajuste es el punto en que actuó una válvula o un presostato: no dice si la válvula deja pasar entonces el caudal necesario, si vuelve a cerrar bien ni si seguirá donde se ajustó. Lo dirían el caudal que la atraviesa, la presión a la que cierra y otra prueba más adelante.
test-drift = La deriva de un vástago o de una carga no distingue una junta de émbolo que fuga de una válvula que fuga: lo distinguiría aislar el cilindro en sus tomas y volver a medir. Vale para esta carga, esta temperatura del aceite y esta posición del vástago.
test-cycle-time = Un tiempo de ciclo no dice qué paso frena la máquina, ni si es el accionamiento, una válvula, el rozamiento o el control: lo dirían los tiempos de cada paso, con la presión, la corriente o el caudal en el más lento. Depende de la carga, la temperatura y los ajustes.
test-alignment = La alineación se mide en reposo y casi siempre en frío: no dice adónde mueven la máquina en servicio el calor, la carga y el tiro de las tuberías, ni distingue una desalineación de un eje doblado o de una pata que no asienta. Lo harían medir el salto, revisar cada apoyo y una lectura con la máquina aún caliente.
test-belt-tension = La tensión de una correa no distingue una correa sana de una gastada o manchada de aceite, ni muestra gargantas gastadas o poleas desalineadas, con las que una correa patina aun con la tensión correcta: lo mostrarían una regla y una galga de gargantas. Baja mientras se asienta una correa nueva, y las cifras de dos métodos, por fuerza o por frecuencia, no se pueden comparar.
test-brake-force = La fuerza de frenado en un frenómetro no distingue el freno de la adherencia y del peso sobre la rueda: en cuanto la rueda patina, solo se mide la adherencia. Es una prueba lenta y en frío, y no dice nada de la pérdida de eficacia en caliente ni de la distancia de parada; lo diría una frenada medida con la máquina cargada.
test-oil-cleanliness = La limpieza del aceite cuenta partículas por tamaño: no distingue metal de desgaste de polvo, agua o burbujas de aire, ni dice de qué pieza vienen; lo dirían un análisis de metales y de agua, y las partículas al microscopio. Depende de dónde, cuándo y en qué recipiente se tomó la muestra.
test-combustion-analysis = Un análisis de combustión no distingue un suministro de combustible incorrecto o una boquilla gastada de una falta de aire o de tiro, y el aire que entra en el conducto de humos diluye lo que se mide. Vale para esta potencia del quemador, y no muestra si los gases revocan al local: lo mostraría una prueba de revoco en el aparato.
test-water-quality = La calidad del agua vale para esta muestra, de este lugar y este momento. La conductividad y el pH no dicen qué sustancias los causan, y ninguna de estas cifras dice nada de los gérmenes ni de la corrosión ya producida; lo dirían un análisis de laboratorio y una inspección interior.
test-fault-memory = Una memoria de averías muestra lo que notó el control: no distingue una pieza averiada de una mala conexión o alimentación de ella. Vacía, solo muestra que no se ha registrado nada desde que se borró; cuánto vale eso lo dirían cuándo fue y si la función vigilada ha trabajado desde entonces.
test-leak-check = Una búsqueda de fugas con agua jabonosa o de oído encuentra lo que burbujea o se oye: se le escapan las fugas pequeñas, las inaccesibles y las que tapa el ruido, y no da ninguna cifra de lo que se pierde. Mostraría más mantener una presión durante un tiempo o un detector del gas.
test-actuation-check = Que un actuador se oiga o se note muestra que recibe la orden, no que recorra toda su carrera o deje pasar lo que debe; si no se oye, esto no distingue un fallo eléctrico de uno mecánico. Lo harían su corriente y su resistencia, y el caudal o el recorrido que da. Otra persona puede juzgarlo de otro modo.
form-grade = Un grado apreciado de oído, a ojo o al tacto es el juicio de una persona en un día: no se midió cuánto falta para el grado siguiente, y otra persona puede apreciarlo de otro modo.
form-rate = La dispersión de una tasa contada es la de sucesos que llegan de uno en uno y por azar. Si llegan a ráfagas, varían más; y la variación propia de la tasa de una prueba a otra no está contada.
form-list = Que un código de avería haya desaparecido no dice si desapareció su causa: la memoria se puede borrar, y muchos códigos vuelven a almacenarse solo después de que la máquina se haya comprobado a sí misma.

## Cautions

hazard-injection = presión de inyección
hazard-exhaust = gases de escape
hazard-rotating-parts = piezas en rotación
hazard-battery = batería
hazard-heat = superficies calientes
hazard-fire = incendio
hazard-lifting = carga suspendida
hazard-electricity = tensión de red
hazard-pressurised-gas = gas a presión
hazard-flue-gas = gases de combustión
hazard-hydraulics = líquido a presión
hazard-moving-machine = máquina que puede moverse

caution-injection = El combustible o el aceite que sale de un inyector o de una fuga puede perforar la piel, incluso a través de los guantes, y al principio duele poco. No busque nunca fugas con la mano; alivie antes la presión. Una herida así es una urgencia quirúrgica: acuda al hospital de inmediato.
caution-exhaust = Los gases de escape matan. No haga funcionar un motor en un local cerrado sin extracción de los gases de escape; una puerta abierta no basta.
caution-rotating-parts = Mantenga la ropa, el pelo y las manos lejos de correas, ventiladores y ejes, y cuente con que una máquina en automático puede arrancar sola. Bloquéela contra el arranque antes de trabajar en ella.
caution-battery = Las baterías desprenden gas explosivo: ni llamas ni chispas, y use protección ocular. Haga la última conexión lejos de la batería, y nunca someta una batería congelada a una prueba de descarga.
caution-heat = Después de parar, las superficies siguen calientes, y los líquidos, calientes y a presión. Déjelos enfriar antes de abrir nada.
caution-fire = Mantenga las chispas y las piezas calientes lejos del combustible y sus vapores, y tenga un extintor a mano.
caution-lifting = No trabaje nunca bajo una carga o una máquina suspendida, o sostenida solo por un gato o por la hidráulica.
caution-electricity = La tensión de red y los condensadores cargados matan. Desconecte, bloquee y compruebe la ausencia de tensión. Solo personal habilitado puede trabajar con ellos.
caution-pressurised-gas = El refrigerante y otros gases a presión pueden congelar la piel, reventar conductos y desplazar el aire. Solo personal habilitado puede abrir un circuito de refrigerante.
caution-flue-gas = Los gases de combustión pueden llevar monóxido de carbono, que mata y no huele. Mantenga el conducto de humos conectado y el local ventilado, y lleve una alarma de monóxido de carbono. Solo personal habilitado puede intervenir en la parte de gas o de gasóleo de un quemador.
caution-hydraulics = Un chorro de aceite o de agua a presión puede perforar la piel, incluso a través de los guantes, y al principio duele poco: no busque nunca fugas con la mano, y con una herida así acuda al hospital de inmediato. Los circuitos siguen a presión después de parar: baje todas las cargas y alivie la presión antes de abrir nada.
caution-moving-machine = Una máquina en prueba puede ponerse en marcha, girar o dejar caer su herramienta. Cálcela o sujétela, mantenga a todos fuera de su recorrido y acuerde las señales antes de soltar un freno o dejarla funcionar.
caution-defer = Son precauciones de uso común, no instrucciones. Tienen prioridad las instrucciones del fabricante, la normativa local y las reglas del oficio para personal habilitado.

## Seals and signature

kind-of-receipt = Comprobante de una prueba inicial sellada
receipt-title = Comprobante de la prueba inicial sellada de { $number }: { $machine }
receipt-headline = La prueba inicial, tal como se midió y se selló
receipt-lead = Estas cifras y estos límites se sellaron tal como figuran aquí, a la hora que consta abajo. Con la huella de esta página, cualquiera puede comprobar después que el informe se juzgó con ellos y con ningún otro.
receipt-measured = Medido
receipt-conditions = Condiciones
receipt-condition = { $name } { $value } ({ $window })
receipt-measured-by = { $moment }, por { $by }
receipt-rule-simple = Después del trabajo, un valor en su límite o dentro de él cumple; la incertidumbre no se cuenta.
receipt-rule-guarded = Después del trabajo, un valor cumple solo si está dentro de su límite con un margen igual o mayor que su incertidumbre; si está fuera de él por más que su incertidumbre, no cumple; entre lo uno y lo otro, el resultado no es concluyente.
receipt-rule-four-zone = Después del trabajo, un valor dentro de su límite con un margen igual o mayor que su incertidumbre cumple; dentro con un margen menor, cumple con reserva; fuera sin superar la incertidumbre, el resultado no es concluyente; más allá, no cumple. Entre dos límites más juntos que el doble de la incertidumbre, un valor que está dentro cumple con reserva si es más probable que esté dentro que fuera; si no, el resultado no es concluyente.
receipt-keep = Guarde esta página, en papel o como archivo. Es la única copia de la huella que el taller no puede cambiar.
label-receipt-today = Hoy
label-receipt-compare = Según la página 1 del informe
label-receipt-read = Cada lectura
label-receipt-fingerprint = Huella del sello
label-receipt-qr = Código QR del resumen SHA-256 completo del sello
label-seals = Sellos
label-stage = Etapa
label-sealed = Sellado
label-fingerprint = Huella y SHA-256 del sello
label-how = Tres maneras de comprobarlo

attached-input = Archivo de entrada, SHA-256 { $digest }
attached-seal = Sello, SHA-256 { $digest }
attached-result = Todas las cifras de este informe, sin redondear
attached-document = Qué documento es este y cómo se compusieron sus páginas
attached-form = Parte del formato propio del taller con que se compusieron las páginas
signed-by = Firmado electrónicamente por { $name }
signed-when = { $moment }, { $time }
signed-clock = según el reloj del equipo informático del taller
signed-set = hora introducida a mano
signed-authority = según el reloj del equipo informático del taller; una autoridad de sellado de tiempo da fe además de la firma
signed-authority-away = según el reloj del equipo informático del taller; la autoridad de sellado de tiempo no respondió
signed-other-name = El certificado no lleva el nombre de { $shop }.
signed-key = SHA-256 del certificado
signed-description = Firma electrónica de { $name } sobre este documento entero
unsigned = Este informe no lleva firma digital: muestra lo que se midió, pero no quién lo emitió, y podría alterarse sin dejar rastro.
unsigned-receipt = Esta página no lleva firma digital. Aun así, su huella delata cualquier cambio posterior en los archivos sellados, mientras usted guarde la propia página.

sealed-before = Registrado antes del trabajo, según el reloj del taller. Si su comprobante muestra otra, o no tiene ninguno, pregunte al taller antes de fiarse de esta página.
sealed-before-by-hand = Sellado antes del trabajo, con una hora introducida a mano
sealed-amended = Sellado antes del trabajo, y enmendado
sealed-amended-late = Sellado antes del trabajo; enmendado cuando este ya había empezado
sealed-late = Sellado cuando el trabajo ya había empezado
sealed-not = No sellado antes del trabajo
sealed-broken = Un sello está roto
seal-alert = El registro sellado se modificó: { $what }. Las cifras de aquí pueden no ser las que se sellaron. Valen las de su comprobante; pregunte al taller, en el número que figura en él, qué ocurrió.
seal-changed = { $file }, con cambios posteriores al sello de la { $stage }
seal-missing = { $file }, que se selló con la { $stage } y ya no está
chain-not-a-seal = { $file } no es un sello: { $why }
chain-name = { $file } no es el nombre de archivo que sigue en la cadena de sellos
chain-incomplete = { $file } no enumera todos los archivos de su etapa
chain-previous = { $file } no concuerda con el sello anterior: ese sello se modificó o se sustituyó después de crearse { $file }
chain-order = { $file } no tiene ningún sello anterior al que seguir
chain-no-reason = { $file } sella su etapa por segunda vez sin dar una razón
chain-clock = { $file } lleva una hora anterior a la del sello que lo precede
chain-other-job = { $file } nombra un trabajo distinto del que nombra el primer sello
seal-not-text = no es texto
seal-line = la línea { $line } no es la que corresponde en un sello
seal-name-path = `{ $name }` no es una ruta simple
seal-name-hidden = `{ $name }` tiene un carácter invisible
seal-names-alike = `{ $one }` y `{ $other }` son el mismo nombre en algunos sistemas
seal-set-by-hand = { $moment } (hora introducida a mano)
seal-amends = Sustituye a un sello anterior: { $why }
seal-none-short = Los límites y la prueba inicial no se sellaron antes del trabajo: pudieron escribirse después.
seal-late-short = Los límites y la prueba inicial se sellaron cuando el trabajo ya había empezado: pudieron escribirse después.
seal-retest-short = La prueba final no se selló.
seal-none = No se selló nada. Los resúmenes SHA-256 de abajo demuestran que los archivos son aquellos con los que se hizo este informe; no demuestran que los límites y la prueba inicial se escribieran antes del trabajo.
seal-before-work = Según las horas de estos archivos, los límites, la regla de decisión y la prueba inicial se sellaron antes de empezar el trabajo. El comprobante que se hizo con ese sello muestra su huella. Cada sello contiene el resumen SHA-256 de todos los archivos de su etapa y el del sello anterior; por eso, ningún sello salvo el último puede cambiarse o sustituirse por separado, y el último queda fijado por los documentos emitidos desde entonces.
seal-after-work = La prueba inicial se selló cuando el trabajo ya había empezado. Los sellos demuestran que nada ha cambiado desde entonces; no demuestran que los límites y la prueba inicial se escribieran antes del trabajo.
seal-amended = Después de sellarse por primera vez, la prueba inicial se modificó ({ $files }) y se selló de nuevo: { $why }.
seal-amended-late = La prueba inicial se selló antes del trabajo. Cuando este ya había empezado, se modificó ({ $files }) y se selló de nuevo, por esta razón: { $why }. Este informe no puede demostrar que lo modificado se escribiera antes del trabajo.
seal-retest-amended = Después de sellarse por primera vez, la prueba final se modificó ({ $files }) y se selló de nuevo: { $why }.
seal-clock = Las horas de los sellos son las del equipo informático en que se hicieron. Lo que los sitúa en el tiempo es el comprobante que se entregó al cliente.
evidence-truth = Ni un resumen SHA-256 ni una firma pueden demostrar que una lectura fuera cierta cuando se escribió.

way-eye = A simple vista
way-page = Con un teléfono o cualquier navegador
way-hand = A mano
how-eye = Compare letra por letra la huella al pie de la página 1 con la del comprobante que se entregó antes del informe: si son iguales, los límites y las lecturas anteriores al trabajo son los del comprobante. Cualquier lector de PDF que compruebe firmas dice quién firmó y si algo se modificó después.
how-eye-unsealed = No hay huella que comparar con un comprobante. Cualquier lector de PDF que compruebe firmas dice quién firmó y si algo se modificó después.
how-eye-receipt = La página 1 del informe debe mostrar la huella de este comprobante, letra por letra. Cualquier lector de PDF que compruebe firmas dice quién firmó esta página y si algo se modificó después.
how-page = Abra en un navegador check.html, la página del programa retestify, y elija este archivo y, si lo tiene, su comprobante. No se instala nada ni se envía nada. Consiga check.html de quienes publican retestify, no del taller. Con el propio programa: retestify verify report.pdf --receipt receipt.pdf --trust shop.pem
how-page-receipt = Abra en un navegador check.html, la página del programa retestify, y elija este archivo, o el informe junto con él. No se instala nada ni se envía nada. Consiga check.html de quienes publican retestify, no del taller. Con el propio programa: retestify verify receipt.pdf --trust shop.pem
how-hand = Con herramientas que tienen casi todos los sistemas:
made-with = Hecho con { $program }
how-signature = Guarde este archivo con el nombre report.pdf en una carpeta propia. Cualquier lector de PDF que compruebe firmas muestra quién lo firmó y si se modificó desde entonces; también lo hace el primer comando, que debe mostrar «Signature is Valid» y «Total document signed». Dice además que el emisor del certificado es desconocido: el taller se lo emitió a sí mismo, y por eso importa el paso siguiente.
how-certificate = El certificado debe ser el que le dio el taller. El último comando debe mostrar este SHA-256 del certificado, y lo mismo «openssl x509» con el archivo de certificado que usted recibió:
how-attachments = Los archivos de entrada, los sellos y todas las cifras sin redondear (result.json) están dentro de este PDF. Un lector de PDF los muestra como adjuntos; este comando los extrae.
how-attachments-unsealed = Los archivos de entrada y todas las cifras sin redondear (result.json) están dentro de este PDF. Un lector de PDF los muestra como adjuntos; este comando los extrae.
how-digests = Los resúmenes SHA-256 deben coincidir con los de la tabla de archivos de entrada.
how-receipt = Guarde esta página con el nombre receipt.pdf en una carpeta propia. Estos comandos, disponibles en casi todos los sistemas, muestran quién la firmó y si se modificó, extraen los archivos que lleva dentro, los comparan con el sello y dan las letras de la huella. Cuando el trabajo se cierre, el informe debe mostrar la misma huella en su tabla de sellos.
how-receipt-unsigned = Guarde esta página con el nombre receipt.pdf en una carpeta propia. No está firmada. Estos comandos, disponibles en casi todos los sistemas, extraen los archivos que lleva dentro, los comparan con el sello y dan las letras de la huella. Cuando el trabajo se cierre, el informe debe mostrar la misma huella en su tabla de sellos.
how-seals = Cada archivo debe figurar como OK. Las fotos y las grabaciones se quedan en el taller; con copias de ellas en la carpeta, el mismo comando sin «--ignore-missing» las comprueba también.
how-chain = Los resúmenes SHA-256 de los sellos deben coincidir con la tabla de sellos, y la línea «previous» de cada sello debe dar el resumen del sello anterior.
how-fingerprint = La huella del sello vigente de la prueba inicial debe ser la del comprobante que se entregó al cliente, donde un código QR contiene el resumen SHA-256 entero. Sus letras son el comienzo de ese resumen en base32; el comando debe mostrar:
input-attached = adjunto
input-listed = solo en la lista

## The page before a shop's own form

own-form-title = Hecho con el formulario propio del taller
own-form-text = Las páginas que siguen se hicieron con la plantilla o los textos propios del taller, que pueden imprimir cualquier cosa. Esta página no: lo que dice se calculó con los archivos que lleva este documento. Si otra página dice algo distinto, fíese de esta.
own-form-job = Trabajo { $number }: { $machine }
own-form-figure = { $name }: antes { $before }, después { $after }; { $limit }; { $result }
own-form-files = El formulario propio del taller va adjunto: { $files }.
