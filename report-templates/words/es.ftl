### Las palabras del informe y de la pantalla, en español.
###
### Un mensaje por línea o bloque; `{ $name }` lo rellena el programa. Los mensajes que
### empiezan por `label-` son palabras fijas que ponen las plantillas.

## The document

title = Informe de verificación de reparación { $number }: { $machine }
kind-of-report = Informe de verificación de reparación
job-number = Trabajo { $number }
head-issued = { $number }, emitido el { $issued }
date = { $day } de { $month } de { $year }
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
serial = n.º de serie { $serial }
required = exigida
k-of-n = { $k } de { $n }

## Fixed words of the templates

label-decimal = ,
label-page = página
label-of = de
label-end = Fin del documento
label-was-wrong = Qué fallaba
label-was-done = Qué se hizo
label-to-watch = Qué vigilar
label-before = Antes
label-after = Después
label-key-before = antes
label-key-after = después
label-key-limit = límite
label-key-inside = lo cumple
label-limit = Límite
label-result = Resultado
label-not-shown = Lo que esto no demuestra
label-more = Las páginas siguientes dan cada medición con su incertidumbre, las condiciones de ambas pruebas y los resúmenes SHA-256 por los que se reconocen los archivos de entrada.
label-date = Fecha
label-about = La máquina y las pruebas
label-complaint = El problema, en palabras del cliente
label-measures = Todas las mediciones
label-glance = Antes y después, de un vistazo
label-measures-note = Los valores llevan su incertidumbre expandida, con una probabilidad de cobertura de aproximadamente el 95 %. El cambio es prueba final menos prueba inicial. Bajo un resultado figura la probabilidad de que el valor verdadero esté dentro del límite; bajo un recuento, el intervalo en que está la proporción de aciertos con una confianza del 95 %.
label-measure = Medición
label-baseline = Prueba inicial
label-retest = Prueba final
label-change = Cambio
label-cylinders = Cilindro por cilindro
label-cylinder = Cilindro
label-cyl = cil.
label-texts = Descripciones
label-conditions = Las condiciones, una junto a otra
label-condition = Condición
label-window = Se considera equivalente
label-comparison = Final frente a inicial
label-instruments = Instrumentos
label-instrument = Instrumento
label-kind = Tipo, número de serie
label-errors = Errores declarados
label-calibrated = Calibrado
label-work = El trabajo realizado
label-interventions = Qué se hizo
label-attribution = El cambio y el trabajo
label-supplies = Piezas y fluidos
label-quantity = Cantidad
label-item = Concepto
label-amount = Importe
label-ruled-out = Descartado
label-also-found = Hallado además
label-run-in = Entre el trabajo y la prueba final
label-cost = Precio
label-photos = Fotos
label-rule = Cómo se juzgó
label-budgets = De dónde vienen las incertidumbres
label-budgets-note = Incertidumbres estándar (típicas) en la unidad de la medición, con su parte del total en tanto por ciento; hay una fila para el cambio donde este no procede de dos lecturas independientes; u combinada, ν grados de libertad de lo estimado con repeticiones (∞: nada), U expandida con una probabilidad de cobertura del 95 %, a la que se lleva también la U con k = 2 (95,45 %) de un certificado.
label-budgets-cylinders = De los cilindros, el de mayor incertidumbre representa a todos.
label-reading = Lectura
label-components = Componentes
label-cannot-tell = Lo que las pruebas no pueden distinguir
label-cautions = Antes de que alguien repita estas pruebas
label-evidence = Cómo comprobar este informe
label-inputs = Archivos de entrada
label-file = Archivo
label-digest = SHA-256
label-size = Tamaño
label-place = Dónde

## The customer's page

mark-verified = Verificado
mark-not-verified = No verificado
mark-broken = Un sello está roto
mark-undecided = Sin decidir
headline-verified = { $count ->
    [one] La medición exigida cumple ahora su límite.
    [2] Las dos mediciones exigidas cumplen ahora sus límites.
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
    [2] Dos mediciones exigidas no cumplen su límite o la mejora pedida.
   *[other] { $count } mediciones exigidas no cumplen su límite o la mejora pedida.
}
headline-verified-narrow = { $count ->
    [one] La medición exigida cumple ahora su límite, pero por poco.
    [2] Las dos mediciones exigidas cumplen ahora sus límites, no todas con holgura.
   *[other] Las { $count } mediciones exigidas cumplen ahora sus límites, no todas con holgura.
}
headline-undecided-unknown = No se puede demostrar que las dos pruebas se hicieran en condiciones equivalentes; nada está decidido todavía.
headline-broken = Se cambiaron archivos después de sellarlos; no se puede confiar en este informe mientras eso no se explique.
headline-undecided = Estas pruebas no bastan para decidirlo.
headline-undecided-worse = Empeoró algo que debía mantenerse; no está decidido.
headline-undecided-conditions = La prueba final no se hizo en condiciones comparables; nada está decidido todavía.
lead-tested = Se probó de nuevo el { $day }, después del trabajo: { $machine }.
lead-figure = { $name }: { $after }; antes del trabajo, { $before }.
settle-conditions = Lo decidiría una nueva prueba en condiciones como las de la inicial.
settle-worse = Primero hay que averiguar por qué empeoró.
settle-measurement = Lo decidiría un instrumento más exacto, o más repeticiones.
lead-matched = Las condiciones que importan fueron equivalentes en ambas pruebas.
lead-harder = La prueba final se hizo en condiciones más desfavorables ({ $names }); la comparación queda del lado de la seguridad.
left-unmended = Hallado y dejado como está: { $what }
more-items = { $count ->
    [one] Uno más, en las páginas siguientes.
   *[other] { $count } más, en las páginas siguientes.
}
more-figures = { $count ->
    [one] Otra medición está en la tabla de todas las mediciones.
   *[other] Otras { $count } están en la tabla de todas las mediciones.
}
also-mended = Hallado además y reparado: { $what }
come-back = Vuelva hacia el { $day }.
follow-up-was = La revisión estaba prevista para el { $day }.
call = Preguntas o problemas: { $call }.
not-needed = No hizo falta: { $what }.
not-needed-estimate = No hizo falta: { $what }, { $amount } según la estimación de { $by }.
work-charged = Importe de este trabajo: { $total }.
promises-nothing = El veredicto se refiere a esta máquina en esta prueba final. No promete duración alguna.
signs-for-shop = Por el taller: { $name }
signs-for-customer = Recibido por: { $name }
cylinders-inside = { $name }, cilindros dentro del límite
cylinders-each = en cada uno: { $limit }
smoke-opacity-over = { $name }, opacidad en { $path }
smoke-opacity = { $name }, opacidad
smoke-absorption = { $name }, coeficiente de absorción luminosa k
smoke-clear = { $name }, hasta que desaparece
strip-alt = { $name }: antes { $before }, después { $after }, límite { $limit }.

## Reasons

reason-fails = «{ $name }» no cumple su límite.
reason-fails-cylinders = «{ $name }» no cumple su límite en el cilindro { $cylinders }.
reason-too-near = «{ $name }» está demasiado cerca de su límite para saber si lo cumple: la distancia es menor que la incertidumbre de la medición.
reason-improvement-absent = «{ $name }» no mejoró tanto como se exigía.
reason-improvement-worse = «{ $name }» empeoró, y se exigía una mejora.
reason-no-improvement = La mejora que se exigía de «{ $name }» no está demostrada: no se distingue cambio alguno, o no se puede calcular qué parte del valor inicial supone.
reason-not-taken = «{ $name }» no se leyó en la prueba final: { $why }.
reason-worse = «{ $name }» empeoró.
reason-easier = La prueba final fue más favorable que la inicial en lo que importa: { $names }. Un resultado mejor puede venir de ahí.
reason-unknown = No consta en una de las dos pruebas o en ninguna, se midió con exactitud insuficiente, o difiere sin que se sepa hacia qué lado influye: { $names }.
reason-not-cold = La máquina no estaba fría en la prueba final: { $name } estaba más de 7 K por encima de la temperatura ambiente.
reason-nothing-required = No se exigió ninguna medición de antemano; no hay nada que verificar.

## Reservations

reservation-narrow = «{ $name }» cumple su límite, pero por menos que la incertidumbre de la medición.
reservation-fault-not-shown = Las mediciones exigidas ya cumplían sus límites antes del trabajo, y ninguna mejoró: no mostraron la avería.
reservation-other-outside = «{ $name }», que no se exigía, no cumple su límite.
reservation-other-worse = «{ $name }», que no se exigía, empeoró.
reservation-other-condition = Las pruebas difieren, o no se pueden comparar, en una condición que no se exigía: { $name }.
reservation-no-conditions = No había condiciones que comparar; el informe no puede decir si las dos pruebas se hicieron en condiciones equivalentes.
reservation-simple-rule = En los límites no se contó la incertidumbre, según lo acordado: un valor cerca de su límite lo cumple o no por azar.
reservation-overdue = El instrumento «{ $instrument }» se usó con la calibración vencida desde el { $due }.
reservation-not-cold = La máquina no estaba del todo fría en la prueba inicial: { $name } estaba más de 7 K por encima de la temperatura ambiente. Un arranque más frío habría sido aún más desfavorable.
reservation-retest-not-cold = La máquina no estaba del todo fría en la prueba final: { $name } estaba más de 7 K por encima de la temperatura ambiente. Una máquina caliente arranca con más facilidad.
reservation-short-soak = La máquina estuvo parada menos de 8 horas antes de la prueba final.
reservation-scatter-not-known = El cambio de «{ $name }» deja fuera el error común del instrumento, y no se vio dispersión de lecturas que pudiera ocupar su lugar: su incertidumbre es la menor posible.
reservation-battery-not-recorded = Ni la tensión de la batería ni la velocidad de giro al arrancar constan en las dos pruebas a la vez. Una batería mejor basta para acortar «{ $name }».
reservation-helped = Equivalente dentro de su margen, pero cambió hacia el lado más favorable: { $name }. Parte de un resultado mejor puede venir de ahí.
reservation-calibrated-later = El instrumento «{ $instrument }» se calibró después de usarse; su certificado no cubre estas lecturas.
capture-after-work-started = La foto «{ $caption }» figura como de la prueba inicial, pero según su cámara es del { $taken }, posterior al comienzo del trabajo ({ $against }).
capture-before-work-ended = La foto «{ $caption }» figura como de la prueba final, pero según su cámara es del { $taken }, anterior al final del trabajo ({ $against }).
capture-days-away = La foto «{ $caption }» figura en la etapa «{ $stage }» ({ $against }), pero según su cámara es del { $taken }, con días de diferencia.
capture-no-zone = Esa cámara no indica zona horaria; se admitió un día de margen.
capture-several = { $count } fotos llevan horas de cámara que no encajan con la prueba que representan; «Cómo se juzgó» nombra cada una con ambas horas.
issued-before-retest = La prueba final está fechada después del momento en que se emitió este informe.
reservation-meter = El contador de la máquina marca menos en la prueba final que en la inicial.
reservation-meter-run-in = El contador de la máquina subió menos que el rodaje anotado.
reservation-repeats = «{ $name }» no se leyó tantas veces como se había previsto antes del trabajo; parar antes o seguir midiendo puede favorecer un resultado.

## Limits, zones, changes

limit-at-most = máximo { $max }
limit-at-least = mínimo { $min }
limit-between = de { $min } a { $max }
limit-and = {" "}y{" "}
limit-lower-by = reducción mínima de { $amount } respecto de la inicial
limit-higher-by = aumento mínimo de { $amount } respecto de la inicial
limit-passes = mínimo { $min }
limit-none = ninguno
limit-source = { $limit } ({ $source })
zone-pass = cumple
zone-conditional-pass = cumple condicionalmente
zone-conditional-fail = incumple condicionalmente
zone-fail = no cumple
gain = mejora exigida: { $zone }
gain-unknown = no se puede saber
change-improved = mejoró
change-apparent = mejor, pero no en condiciones equivalentes
change-none = sin cambio apreciable
change-worsened = empeoró
change-common = sin el error común
change-paired = { $pairs } pares, prueba de rangos con signo p { $p }
change-paired-few = { $pairs } pares, pocos para una prueba de rangos
change-inside = cambió, dentro de sus límites
change-outside-inside = estaba fuera de sus límites, está dentro
change-came-inside = entró en sus límites, por menos de lo que se puede asegurar
change-went-outside = salió de sus límites, por menos de lo que se puede asegurar
change-neither = cambió, sin acercarse a sus límites ni alejarse
change-too-few-attempts = pocos intentos para mostrar un cambio
change-too-few-cylinders = pocos cilindros para mostrar un cambio
outcome-pass = lo cumple
outcome-narrow = lo cumple por poco
outcome-undecided = demasiado cerca para saberlo
outcome-fail = no lo cumple
outcome-none = a título informativo
probability = dentro: { $p }
count-interval = proporción después: de { $low } a { $high } %
not-taken = sin leer
see-cylinders = véase «Cilindro por cilindro»
read-with = Con { $ids }
plain-id = { $id }
overdue-id = { $id } (calibración vencida)

## The desk's pages

about-customer = Cliente
about-machine = Máquina
about-identity = Marca, modelo, serie
about-details = Detalles
about-received = Recibida
run-baseline = prueba inicial
run-retest = prueba final
run-both = ambas
run-change = cambio
run-note = { $run }: { $note }
run-started = Empezada
run-ended = Acabada
run-by = Medida por
run-witness = Testigo
run-meter = Contador
run-remark = Nota
not-recorded = sin anotar
window = diferencia de hasta { $window }
window-same = las mismas palabras
condition-matched = equivalente
condition-harder = más desfavorable
condition-easier = más favorable
condition-unknown = no se puede saber
error-both = ±({ $percent } de la lectura + { $fixed })
error-percent = ±{ $percent } de la lectura
error-fixed = ±{ $fixed }
error-resolution = resolución { $step }
error-hand = cronometrado a mano, u = { $u }
error-stated = certificado: U = { $u }, k = { $k }
calibration-none = sin anotar
calibration-due = vence el { $due }
calibration-overdue = vencida desde el { $due }
chart-alt = { $name } por cilindro, antes y después{ $unit ->
    [none] {""}
   *[other] , en { $unit }
}; límite { $limit }. { $each }.
chart-alt-cylinder = cilindro { $cylinder }: { $before }, luego { $after }

balance-note = Diferencia entre el más alto y el más bajo: { $spread_before } antes, { $spread_after } después. Cilindros, por su número, que se apartan de los demás (z modificada mayor que 3,5): antes { $out_before }; después { $out_after }.
balance-few = Diferencia entre el más alto y el más bajo: { $spread_before } antes, { $spread_after } después. Con tan pocos cilindros no se dice de ninguno que se aparte.
balance-none = ninguno
cylinder-together = { $note } Cambios: { $tie }.
paired-note = Número de cilindros que pasaron a cumplir: { $gained }; que dejaron de cumplir: { $lost } (prueba exacta de McNemar, p = { $p }).
paired-too-few = Número de cilindros que pasaron a cumplir: { $gained }; que dejaron de cumplir: { $lost }. Con { $cylinders } cilindros ningún resultado podría mostrar un cambio: aunque hubieran cambiado todos, p sería { $smallest }, y se pide menos de 0,05.

## The work

work-about = Por { $by }, desde el { $started } hasta el { $finished }.
attribution-one = Entre las dos pruebas consta una sola cosa hecha: { $what }. Lo que cambió, cambió después de ella.
attribution-several = Entre las dos pruebas se hicieron o repararon { $count ->
    [2] dos cosas
    [3] tres cosas
    [4] cuatro cosas
    [5] cinco cosas
    [6] seis cosas
   *[other] { $count } cosas
}. El cambio se presenta junto al trabajo en conjunto; de ninguna de sus partes se ha demostrado que lo produjera.
part-number = { $name }, { $number }
finding-mended = Reparado
finding-left = Dejado como está
run-in-none = Nada anotado.
run-in-starts = { $count ->
    [one] { $count } arranque
   *[other] { $count } arranques
}
cost-labour = Mano de obra
cost-labour-hours = Mano de obra, { $hours }
cost-parts = Piezas y fluidos
cost-rest = Impuestos y otros
cost-total = Importe total
stage-work = trabajo
photo-during-work = durante el trabajo
photo-caption = { $caption } ({ $stage })

## How this was judged

verdict-verified = Verificado: cada medición exigida cumple su límite, se alcanza cada mejora exigida, nada exigido empeoró, y ninguna condición exigida fue más fácil ni desconocida.
verdict-not-verified = No verificado: al menos una medición exigida no cumple su límite, o se demuestra que falta una mejora exigida.
verdict-undecided = Sin decidir: de nada exigido se demuestra que falle, pero no se sabe todo lo que hay que saber.
rule-simple = Regla de decisión «simple»: un valor en su límite o dentro de él cumple, cualquier otro no cumple. La incertidumbre no cuenta.
rule-guarded = Regla de decisión «guarded» (con banda de guarda): un valor cumple solo si está dentro del límite con un margen igual o mayor que su incertidumbre. Más cerca, por dentro («cumple condicionalmente», conditional pass) o por fuera («incumple condicionalmente», conditional fail), queda sin decidir.
rule-four-zone = Regla de decisión «four-zone» (de cuatro zonas; ILAC-G8:09/2019, 4.2.3): dentro del límite con un margen igual o mayor que la incertidumbre, cumple (pass); dentro con un margen menor, cumple condicionalmente (conditional pass) y cuenta como cumplimiento con reserva; fuera sin superar la incertidumbre, incumple condicionalmente (conditional fail) y queda sin decidir; más allá, no cumple (fail). Un valor exactamente en el límite está dentro.
rule-uncertainty = La incertidumbre de una lectura combina la exactitud y la resolución declaradas del instrumento, la dispersión de las repeticiones y el cronometraje a mano (JCGM 100:2008). Se da como incertidumbre expandida U con una probabilidad de cobertura de aproximadamente el 95 %; la dispersión estimada con pocas repeticiones se expande por sí misma, con la t de Student, para que unas repeticiones que coincidan por azar no cuenten como certeza.
rule-change = Una medición se da por mejorada o empeorada solo si el cambio supera su propia incertidumbre.
rule-independent = Los errores de las dos pruebas cuentan como independientes.
rule-paired = Las { $pairs } repeticiones de «{ $name }» van por pares, cada una de antes con una de después: la dispersión de sus diferencias da la repetibilidad del cambio, s/√n con n − 1 grados de libertad.
rule-paired-test = La prueba de rangos con signo de Wilcoxon, exacta y bilateral, lo apoya o no lo apoya, pero no decide nada: { $used } pares que difieren, sumas de rangos { $rises } hacia arriba y { $falls } hacia abajo, p { $p } (sin los pares que no difieren; los iguales, con su rango medio).
rule-paired-few = Con tan pocos pares, la prueba de rangos con signo de Wilcoxon no puede dar una p menor que 0,05: aunque los { $used } que difieren hubieran ido todos hacia un lado, p sería { $smallest }. Por eso no se hace.
rule-paired-none = Ningún par difiere; no hay prueba de rangos que hacer.
rule-otherwise-independent = Por lo demás, los errores de las dos pruebas cuentan como independientes.
rule-common = En el cambio de { $names }, y solo ahí, el error de «{ $instrument }» cuenta como el mismo en ambas pruebas, por esta razón: «{ $reason }». Su parte fija se anula; de una parte proporcional a la lectura queda la que corresponde al cambio. En un límite el error cuenta entero.
rule-path-converted = La opacidad de «{ $name }» se midió como { $before } en un recorrido óptico de { $before_path } antes y { $after } en { $after_path } después, y se convirtió a los { $path } para los que vale su límite: N₂ = 1 − (1 − N₁)^(L₂/L₁), como en 40 CFR 86.884-14. Su incertidumbre se propaga en primer orden.
rule-path-unlike = La opacidad de «{ $name }» se midió en un recorrido óptico de { $before_path } antes y { $after_path } después. El mismo humo es más opaco en un recorrido más largo, y no se fijó ninguno de antemano; por eso no se comparan las dos opacidades, sino el coeficiente de absorción, que no depende del recorrido.
rule-agreed = Límites y regla de decisión: { $agreed }.
rule-agreed-limits = Límites: { $agreed }. No se nombró regla de decisión; la de arriba es la del formato.
rule-not-agreed = No consta acuerdo alguno sobre límites y regla de decisión.

quoted = «{ $name }»
budget-cylinder = { $name }, cilindro { $cylinder }
budget-part = { $source } { $u } ({ $share })
source-accuracy = exactitud
source-resolution = resolución
source-repeatability = dispersión de repeticiones
source-hand = cronometraje a mano
source-stated = declarada

## The worksheet

sheet-title = Hoja de trabajo { $number }: { $machine }
sheet-kind = Hoja de trabajo
sheet-before-work = Termine la prueba inicial, pásela a baseline.toml y séllela, antes de empezar cualquier trabajo.
sheet-alike = Antes de la prueba final, compare cada condición con la inicial. Fuera de su margen hacia el lado más favorable, la prueba final no decide nada: espere y pruebe otro día.
sheet-all-digits = Use los mismos instrumentos, y el mismo número de repeticiones y de intentos, en ambas pruebas. Anote todas las cifras que se muestren, y cada intento, salga bien o no.
sheet-photos = Fotografíe lo mismo desde el mismo sitio en ambas pruebas.
sheet-when = Cuándo
sheet-day = día
sheet-from = desde
sheet-to = hasta
sheet-meter = Cuentahoras o cuentakilómetros
sheet-meter-unit = h · km · mi
sheet-lower-is-harder = { $window }; cuanto más bajo, más desfavorable
sheet-higher-is-harder = { $window }; cuanto más alto, más desfavorable
sheet-limit = Límite: { $limit }
sheet-instrument = Con: { $id }
sheet-instruments = Con (marque uno): { $ids }
sheet-mind = Cuidado con: { $hazards }
sheet-passed = logrados
sheet-opacity = opacidad
sheet-path = recorrido óptico
sheet-clear = desaparece tras
sheet-colour = color, descripción
label-sheet-runs = Las pruebas
label-sheet-conditions = Condiciones, antes de las pruebas
label-sheet-measures = Las mediciones
label-sheet-cautions = Precauciones
label-sheet-baseline = Prueba inicial, antes del trabajo
label-sheet-retest = Prueba final, después del trabajo
label-sheet-note = Notas

## What each kind of test cannot tell (common practice, no published source)

test-cranking-time = El tiempo de giro hasta arrancar no distingue entre combustible, calor, compresión, motor de arranque y batería: cada uno por sí solo puede alargarlo, y una batería mejor por sí sola lo acorta.
test-cranking-speed = La velocidad de giro al arrancar no distingue una batería, un cable o un motor de arranque débiles de un motor que gira con dificultad; basta un aceite más espeso para bajarla.
test-cranking-voltage = La tensión durante el arranque no distingue una batería débil de un motor de arranque que consume demasiado, ni de un motor que gira con dificultad.
test-running-contribution = Una prueba de contribución en marcha no distingue una compresión baja de un inyector débil.
test-relative-compression = La compresión relativa por la corriente de arranque compara los cilindros entre sí: no dice si todos están bajos por igual, ni por dónde pierde el débil.
test-compression-pressure = La presión de compresión depende de la velocidad de giro al arrancar y de la temperatura. No permite saber si la pérdida está en los segmentos (aros), en las válvulas o en la junta, y no dice nada del combustible.
test-wet-compression-pressure = Una prueba de compresión con aceite no permite saber si el desgaste está en los segmentos (aros) o en la pared del cilindro, y el propio aceite ocupa sitio: en una cámara pequeña sube la presión sean como sean los segmentos.
test-leak-down = Una prueba de fugas del cilindro se hace en reposo, en una sola posición del pistón: no dice cómo cierra el cilindro en marcha. Las cifras de dos comprobadores no se pueden comparar.
test-crankcase-pressure = La presión del cárter (blow-by) no distingue unos segmentos (aros) gastados de un respiradero obstruido, ni de una fuga de un turbocompresor o de un compresor hacia el cárter.
test-oil-pressure = La presión de aceite no distingue unos cojinetes gastados de un aceite demasiado fluido o caliente, ni de una bomba o una válvula de alivio débiles.
test-snap-acceleration-smoke = El humo de una aceleración libre es humo sin carga: no distingue exceso de combustible de falta de aire, ni dice qué hace el motor con carga.
test-visible-smoke = El humo juzgado a ojo depende de la luz, el viento y el fondo. Su color sugiere de dónde viene, pero no lo asegura.
test-battery-load = Una prueba de descarga de la batería (con consumo) no distingue una batería gastada de una descargada o fría, ni dice cuánto durará.
test-voltage-drop = Una caída de tensión vale para la corriente que pasaba: no dice qué unión del tramo está mal, y sin carga no muestra nada.
test-insulation-resistance = La resistencia de aislamiento vale para esta temperatura, humedad y tensión de ensayo. No descubre una avería entre las espiras de un mismo devanado.
test-running-current = La corriente en marcha no distingue una máquina que gira con dificultad de una tensión de alimentación incorrecta o de un devanado que falla.
test-load-step = Un escalón de carga prueba a la vez motor, regulador de velocidad y regulador de tensión: no dice cuál de ellos es lento.
test-supply-pressure = Una presión de alimentación no distingue una bomba débil de un estrechamiento antes del manómetro, y no dice nada del caudal aguas abajo.
test-suction-restriction = El vacío del lado de aspiración no distingue un filtro obstruido de un conducto estrecho, y una fuga por la que entra aire puede ocultar ambos.
test-pressure-hold = Una presión que se mantiene solo muestra que nada pierde más deprisa de lo que esta prueba puede detectar; un cambio de temperatura basta para hacerla variar. No dice dónde está una fuga.
test-leak-rate = Una tasa de fuga vale para la presión y la temperatura de la prueba: no distingue una fuga de varias, ni dice dónde están.
test-temperature-rise = Un aumento de temperatura depende de la carga y del aire que pasa: no distingue el rozamiento de una mala refrigeración o de la falta de lubricante.
test-vibration-level = Un nivel global de vibración no distingue entre desequilibrio, desalineación y daño de rodamiento o de engranaje, y un fallo incipiente de rodamiento apenas lo cambia.
test-sound-level = Un nivel sonoro depende del sitio, del local y de otras máquinas: no dice qué pieza hace el ruido.
test-backlash = El juego medido en una posición no dice cómo están gastados los demás dientes, ni cómo apoyan con carga.
test-superheat = El recalentamiento (sobrecalentamiento) por sí solo no distingue una carga de refrigerante insuficiente de un dispositivo de expansión obstruido.
test-subcooling = El subenfriamiento por sí solo no distingue un exceso de carga de una línea de líquido obstruida, ni de incondensables.
test-condenser-split = La diferencia de temperatura del condensador no distingue entre condensador sucio, falta de caudal de aire, exceso de carga e incondensables.
test-pull-down-time = El tiempo de enfriamiento inicial (pull-down) depende de la temperatura exterior, de la carga y de la puerta: no dice qué parte del circuito lo frenaba.

## Cautions

hazard-injection = presión de inyección
hazard-exhaust = gases de escape
hazard-rotating-parts = piezas que giran
hazard-battery = batería
hazard-heat = superficies calientes
hazard-fire = incendio
hazard-lifting = carga suspendida
hazard-electricity = tensión de red
hazard-pressurised-gas = gas a presión

caution-injection = El combustible o el aceite de un inyector o de una fuga puede atravesar la piel, incluso con guantes, y al principio duele poco. No busque nunca fugas con la mano; descargue antes la presión. Una herida así es una urgencia quirúrgica: vaya al hospital de inmediato.
caution-exhaust = Los gases de escape matan. No haga funcionar un motor en un recinto cerrado sin extracción de gases; una puerta abierta no basta.
caution-rotating-parts = Mantenga ropa, pelo y manos lejos de correas, ventiladores y ejes, y cuente con que una máquina en automático arranque sola. Bloquéela antes de trabajar en ella.
caution-battery = Las baterías desprenden gas explosivo: ni llamas ni chispas, ojos protegidos. Haga la última conexión lejos de la batería, y no haga nunca una prueba de descarga a una batería congelada.
caution-heat = Las superficies y el líquido refrigerante del motor siguen calientes, y el circuito a presión, después de parar. Deje enfriar antes de abrir nada.
caution-fire = Mantenga chispas y piezas calientes lejos del combustible y de sus vapores, y tenga un extintor a mano.
caution-lifting = No trabaje nunca bajo una carga o una máquina que cuelga o se apoya solo en un gato.
caution-electricity = La tensión de red y los condensadores cargados matan. Desconecte, bloquee, compruebe la ausencia de tensión; trabaje en la instalación solo si está habilitado.
caution-pressurised-gas = El refrigerante y otros gases a presión pueden congelar la piel, reventar conductos y desplazar el aire. Solo personas habilitadas abren un circuito de refrigerante.
caution-defer = Son precauciones de uso común, no instrucciones. Las instrucciones del fabricante, las normas locales y el criterio de profesionales habilitados tienen prioridad.

## Seals and signature

kind-of-receipt = Comprobante de una prueba inicial sellada
receipt-title = Comprobante de la prueba inicial sellada de { $number }: { $machine }
receipt-headline = La prueba inicial, tal como se midió y se selló
receipt-lead = Estas cifras y límites están sellados tal como figuran aquí, a la hora indicada abajo. Guarde esta página: con la huella que lleva, cualquiera puede comprobar después que el informe se juzga por estas cifras y estos límites, y no por otros.
receipt-measured = Medida
receipt-conditions = Condiciones
receipt-condition = { $name } { $value } ({ $window })
receipt-measured-by = { $moment }, por { $by }
receipt-more = { $count ->
    [one] Otra medición está en los archivos adjuntos.
   *[other] Otras { $count } mediciones están en los archivos adjuntos.
}
receipt-rule-simple = Después del trabajo, un valor en su límite o dentro de él cumple; la incertidumbre no cuenta.
receipt-rule-guarded = Después del trabajo, un valor cumple solo si está dentro del límite con un margen igual o mayor que su incertidumbre.
receipt-rule-four-zone = Después del trabajo, un valor dentro del límite con un margen igual o mayor que su incertidumbre cumple; dentro con un margen menor, cumple con reserva; fuera sin superar la incertidumbre, queda sin decidir; más allá, no cumple.
receipt-keep = Guarde esta página, en papel o como archivo. Es la única copia de la huella que el taller no puede cambiar.
label-receipt-today = Hoy
label-receipt-fingerprint = Huella del sello
label-receipt-qr = Código QR del resumen SHA-256 completo del sello
label-seals = Sellos
label-stage = Etapa
label-sealed = Sellada
label-fingerprint = Huella y SHA-256 del sello
label-how = Cómo comprobar este informe sin nuestro programa

attached-input = Archivo de entrada, SHA-256 { $digest }
attached-seal = Sello, SHA-256 { $digest }
attached-result = Cada cifra de este informe, sin redondear
signed-by = Firmado electrónicamente por { $name }
signed-when = { $moment }, { $time }
signed-clock = según el reloj del equipo informático del taller
signed-set = hora puesta a mano
signed-authority = según el reloj del equipo informático del taller; una autoridad de sellado de tiempo ha puesto además su sello de tiempo en la firma
signed-authority-away = según el reloj del equipo informático del taller; la autoridad de sellado de tiempo no respondió
signed-key = SHA-256 del certificado
signed-description = Firma electrónica de { $name } sobre este documento entero
unsigned = Este informe no lleva firma digital: muestra lo que se midió, pero no quién lo emitió, y podría alterarse sin que se notara.
unsigned-receipt = Esta página no lleva firma digital. Su huella muestra igualmente cualquier cambio posterior de los archivos sellados, mientras usted guarde la propia página.

sealed-before = Sellado antes del trabajo, según el reloj del taller
sealed-before-by-hand = Sellado antes del trabajo, con hora puesta a mano
sealed-amended = Sellado antes del trabajo, y enmendado
sealed-amended-late = Sellado antes del trabajo; enmendado después de empezarlo
sealed-late = Sellado solo después de empezar el trabajo
sealed-not = Sin sellar antes del trabajo
sealed-broken = Un sello está roto
seal-alert = Un sello está roto: { $what }. Las cifras de abajo pueden no ser las que se sellaron.
seal-changed = { $file } se modificó después de sellarse con la { $stage }
seal-missing = { $file } se selló con la { $stage } y ya no está
chain-not-a-seal = { $file } no es un sello: { $why }
chain-name = { $file } no es el nombre de archivo que sigue en la cadena de sellos
chain-incomplete = { $file } no contiene todos los archivos de su etapa
chain-previous = { $file } no continúa el sello anterior: ese sello se modificó o se sustituyó después de crearse { $file }
chain-order = { $file } no tiene ningún sello anterior al que seguir
chain-no-reason = { $file } sella su etapa por segunda vez y no dice por qué
chain-clock = { $file } indica una hora anterior a la del sello que lo precede
chain-other-job = { $file } es de otro trabajo que el primer sello
seal-not-text = no es texto
seal-line = la línea { $line } no está escrita como en un sello
seal-name-path = `{ $name }` no es una ruta simple
seal-name-hidden = `{ $name }` tiene un carácter que no se ve
seal-names-alike = `{ $one }` y `{ $other }` son un mismo nombre en algunos sistemas
seal-set-by-hand = { $moment } (hora puesta a mano)
seal-amends = Ocupa el lugar de un sello anterior: { $why }
seal-none-short = Ni los límites ni la prueba inicial se sellaron antes del trabajo: este informe no puede demostrar que no se escribieran después.
seal-late-short = Los límites y la prueba inicial se sellaron solo después de empezar el trabajo: este informe no puede demostrar que no se escribieran después.
seal-retest-short = La prueba final no se selló.
seal-none = No se selló nada. Los resúmenes SHA-256 de abajo muestran que los archivos son aquellos con los que se hizo el informe; no muestran que los límites y la prueba inicial se escribieran antes del trabajo.
seal-before-work = Según las horas de estos archivos, los límites, la regla de decisión y la prueba inicial se sellaron antes de empezar el trabajo. La página para el cliente que se hace con ese sello muestra su huella. Cada sello contiene el resumen SHA-256 de cada archivo de su etapa y del sello anterior; así, ninguno salvo el último puede cambiarse o sustituirse por separado sin que se note; el último queda fijado por los documentos emitidos desde entonces.
seal-after-work = La prueba inicial se selló solo después de empezar el trabajo. Los sellos muestran que nada cambió desde entonces; no muestran que los límites y la prueba inicial se escribieran antes del trabajo.
seal-amended = Después de sellarse por primera vez, la prueba inicial se cambió ({ $files }) y se selló de nuevo, por la razón que acompaña a ese sello.
seal-amended-late = La prueba inicial se selló antes del trabajo. Después de empezarlo se cambió ({ $files }) y se selló de nuevo, por la razón que acompaña a ese sello: este informe no puede demostrar que lo cambiado no se escribiera después.
seal-clock = Las horas de los sellos son las del equipo informático en que se hicieron. Lo que los sitúa en el tiempo es la página que se dio al cliente.
evidence-truth = Ni un resumen SHA-256 ni una firma pueden demostrar que una lectura fuera cierta cuando se escribió.

how-signature = Ponga este archivo en una carpeta propia con el nombre report.pdf. Cualquier lector de PDF que entienda de firmas muestra quién lo firmó y si cambió desde entonces; también el primer comando, que debe decir «Signature is Valid» y «Total document signed». Dice además que el emisor del certificado es desconocido: el taller se lo emitió a sí mismo, y por eso importa el paso siguiente.
how-certificate = El certificado debe ser el que le dio el taller. El último comando debe dar este SHA-256 de él, y lo mismo «openssl x509» con el archivo de certificado que usted recibió:
how-attachments = Los archivos de entrada, los sellos y cada cifra sin redondear (result.json) están dentro de este PDF. Un lector de PDF los muestra como adjuntos; este comando los extrae.
how-attachments-unsealed = Los archivos de entrada y cada cifra sin redondear (result.json) están dentro de este PDF. Un lector de PDF los muestra como adjuntos; este comando los extrae.
how-digests = Los resúmenes SHA-256 deben ser los de la tabla de abajo.
how-receipt = Guarde esta página como receipt.pdf en una carpeta propia. Estos comandos, que se hallan en casi todos los sistemas, dicen quién la firmó y si cambió, extraen los archivos que lleva dentro, los comparan con el sello y dan las letras de la huella. Al terminar, el informe debe mostrar la misma huella en su tabla de sellos.
how-seals = Cada archivo debe figurar como OK. Fotos y grabaciones se quedan en el taller; con copias de ellas en la carpeta, las comprueba el mismo comando sin «--ignore-missing».
how-chain = Los resúmenes SHA-256 de los sellos deben ser los de la tabla de sellos, y cada sello debe nombrar el del anterior en su línea «previous».
how-fingerprint = La huella del sello vigente de la prueba inicial debe ser la de la página que se dio al cliente, donde un código QR contiene el resumen SHA-256 entero. Las letras son el comienzo de ese resumen en base32; el comando debe dar:
input-attached = adjunto
input-listed = solo en la lista
