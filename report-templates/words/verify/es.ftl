### Lo que se dice a quien comprueba un documento: en `retestify verify` y en la página que
### hace lo mismo en un navegador. Los mensajes que empiezan por `page-` son textos fijos de
### esa página.

## Qué se ha comprobado

about-report = Esto es un informe: trabajo { $job }, { $machine }, para { $customer }.
about-report-again = Esto es un informe que se hizo de nuevo (edición { $issue }): trabajo { $job }, { $machine }, para { $customer }.
about-receipt = Esto es un comprobante: trabajo { $job }, { $machine }, para { $customer }.
unread-report = Esto es un informe; lo que contiene no se puede leer como un trabajo.
unread-receipt = Esto es un comprobante; lo que contiene no se puede leer como un trabajo.
unread = Esto no es ni un informe ni un comprobante que esta página pueda leer.
heading-report = Lo que dan sus lecturas, calculado por esta página
heading-receipt = Lo que se midió antes del trabajo, calculado por esta página
state-before-work = Un comprobante muestra la máquina tal como llegó, antes de cualquier trabajo. Es de esperar que aquí algo no cumpla: por eso se trajo. Si el trabajo ha servido, lo dice el informe.
result-before-work = antes del trabajo: { $result }
worked-out = Sus datos, calculados de nuevo aquí, dan: { $says }
figure = { $name }: { $before }; { $limit }; { $result }
figure-before-after = { $name }: antes { $before }, después { $after }; { $limit }; { $result }
cannot-show = Ningún sello y ninguna firma pueden demostrar que una lectura era cierta cuando se anotó.

## Lo que el comprobante que se indicó muestra de otro modo

differs = El comprobante que indicó muestra otra cosa que este documento:
differs-line = { $name }: comprobante { $receipt }; este documento { $document }
differs-limit = { $name }, límite
differs-missing = nada
differs-elsewhere = Todo lo que el comprobante muestra de la máquina antes del trabajo lo muestra también este documento. Lo que difiere es otra cosa de los archivos.
differs-rest = Todo lo demás que el comprobante muestra de la máquina antes del trabajo es igual.

## Preguntas y respuestas

question-intact = ¿Está igual que cuando se firmó?
question-signer = ¿El certificado servía para firmar y estaba vigente entonces?
question-expected-signer = ¿Está firmado con un certificado que usted indicó?
question-files = ¿Los archivos que contiene están como se sellaron?
question-chain = ¿La cadena de sellos está completa y sus horas encajan?
question-limits = ¿Los límites son los que se sellaron antes del trabajo?
question-fingerprint = ¿La prueba inicial coincide con el comprobante del cliente?
question-result = ¿Sus datos vuelven a dar el mismo resultado?
question-pages = ¿Sus páginas muestran ese resultado?
question-time = ¿Da fe de la hora una autoridad de sellado de tiempo?
question-listed-files = ¿Los archivos que guarda el taller están sin cambios?

answer-yes = sí
answer-no = no
answer-cannot-tell = no se puede determinar
answer-not-asked = no se comprobó
answer-none = no se pidió a ninguna
answer-despite = sí, pero esto solo no ayuda
answer-unsettled-bytes = no cuenta: el archivo se cambió después de firmarse
answer-unsettled-files = no cuenta: los archivos no son los que se sellaron
answer-unsettled-seals = no cuenta: los sellos no encajan entre sí

## De qué trata una respuesta, en pocas palabras

topic-intact = Desde que se firmó
topic-pages = Sus páginas
topic-expected-signer = Quién lo firmó
topic-fingerprint = Su comprobante
topic-chain = Los sellos
topic-files = Los archivos que contiene
topic-limits = Los límites
topic-result = El resultado
topic-signer = El certificado
topic-time = La hora de la firma
topic-listed-files = Fotos y grabaciones

## Las respuestas en la página, como se le dicen a un cliente

told-intact-yes = No se ha cambiado nada desde que se firmó.
told-intact-despite = No se cambió nada después de firmarse, al final de todo: lo que está mal ya estaba en él.
told-intact-no = No está como cuando se firmó. No se fíe de nada de lo que contiene.
told-intact-cannot-tell = No está firmado. Si alguien lo hubiera cambiado, no se notaría.
told-pages-yes = Sus propias páginas muestran exactamente lo que dan sus lecturas.
told-pages-no = Sus propias páginas no muestran lo que dan sus lecturas. No se fíe de lo que hay en ellas.
told-pages-cannot-tell = No se han podido comparar sus propias páginas con sus lecturas. Compárelas usted con lo que aparece aquí.
told-pages-unsettled = Sus propias páginas muestran lo que dan sus lecturas tal como están ahora.
told-signed-unknown = Está firmado a nombre de «{ $name }». Cualquiera puede firmar con cualquier nombre. Si de verdad fue ese taller se puede saber con su certificado, un archivo que le da el propio taller.
told-signed-trusted = Está firmado con la clave de «{ $name }»: lo demuestra el certificado que usted indicó. Es el taller, si ese certificado se lo dio el propio taller.
told-letterhead = El membrete nombra a «{ $name }», y el nombre de la firma es otro.
told-same-key = Su comprobante está firmado con la misma clave y está como cuando se firmó.
told-signed-other = Está firmado con la clave de «{ $name }», y no le corresponde ningún certificado de los que usted indicó.
told-fingerprint-yes = Está hecho con las mismas primeras lecturas y los mismos límites que muestra su comprobante.
told-fingerprint-no = No está hecho con las primeras lecturas y los límites que se sellaron para el comprobante.
told-fingerprint-innocent = Puede haber una explicación sin malicia: el comprobante de otro trabajo o de una visita anterior, un comprobante que otro posterior sustituyó, o un informe anterior del mismo trabajo. Si no es nada de esto, las primeras lecturas o los límites no son los del día en que dejó la máquina.
told-fingerprint-typed = Puede haber una explicación sin malicia: una letra mal escrita, el comprobante de otro trabajo o de una visita anterior, un comprobante que otro posterior sustituyó, o un informe anterior del mismo trabajo. Si no es nada de esto, las primeras lecturas o los límites no son los del día en que dejó la máquina.
told-fingerprint-cannot-tell = No se puede determinar si está hecho con las primeras lecturas y los límites que muestra su comprobante.
told-fingerprint-unsettled = Tiene el mismo sello que su comprobante, pero lo que contiene no es lo que se selló.
told-fingerprint-not-asked = No ha indicado su comprobante. Con él, esta página puede decir si las primeras lecturas y los límites siguen siendo los del día en que dejó la máquina.
told-signer-no = El certificado con el que se firmó no estaba vigente, o no era para esto.
told-signer-cannot-tell = No se puede determinar si el certificado estaba vigente cuando se firmó.
told-files-no = Los archivos que contiene no están como deben.
told-files-cannot-tell = No se sellaron todos los archivos, así que un cambio en los demás no se notaría.
told-chain-no = Los sellos no encajan entre sí, o sus horas no pueden ser ciertas: alguno se cambió, se quitó o se hizo después.
told-chain-cannot-tell = No se selló nada antes del trabajo. Las primeras lecturas y los límites podrían haberse escrito después.
told-chain-open = Los sellos encajan entre sí, pero sus horas dejan algo abierto.
told-limits-no = Los límites se cambiaron después de sellarse por primera vez.
told-limits-cannot-tell = No se puede determinar si los límites se fijaron antes del trabajo.
told-result-no = Sus lecturas no dan el resultado que contiene.
told-result-cannot-tell = Con esta versión de la página, sus lecturas no dan el mismo resultado. La versión que lo hizo puede decir más.
told-time-no = Su sello de tiempo no es válido.
told-time-cannot-tell = Un tercero dice cuándo se firmó, pero usted no ha indicado el certificado de ese tercero.
told-listed-files-no = Hay fotos o grabaciones que no son las que se sellaron.
told-listed-files-cannot-tell = No se puede determinar si las fotos y grabaciones son las que se sellaron.

## Las huellas, una junto a otra

codes-in-report = En este informe
codes-in-receipt = En este comprobante
codes-on-receipt = En el comprobante que indicó
codes-copied = Como la escribió usted
codes-agree = Coinciden.
codes-agree-open = Las letras coinciden: es el mismo sello. Lo que no se puede determinar de él está arriba.
codes-agree-unsettled = Las letras coinciden: es el mismo sello. Lo que está mal es que algo de este documento ya no está como se selló.
codes-differ-all-over = Son dos códigos distintos.
codes-differ = Difieren en las letras subrayadas.
codes-alone = Compárela, letra por letra, con la que lleva impresa su comprobante.
codes-keep = Cuando el trabajo esté hecho, el informe debe mostrar la misma.

## Lo que puede hacer quien lo lee: una de estas frases

next-no-document = Elija el archivo tal como se lo dio el taller, no una copia que guardara otro programa.
next-altered = Pida al taller el archivo tal como se firmó, no una copia impresa, escaneada o guardada por otro programa, y compruébelo aquí.
next-changed = Pregunte al taller qué se cambió, cuándo y por qué, y pida un informe con los archivos tal como se sellaron.
next-limits = Pregunte al taller qué límites se cambiaron y por qué, y si se lo dijeron antes del trabajo.
next-other-receipt = Vea si indicó el último comprobante de este mismo trabajo y el último informe; si es así, pregunte al taller por qué no coinciden y guarde los dos archivos.
next-other-signer = Pregunte al propio taller, en persona o a un número que ya tuviera, con qué certificado firma, y compare su SHA-256 con el de abajo.
next-not-valid = Pida al taller un informe firmado con un certificado vigente.
next-time = Tome la hora de la firma como palabra del propio taller, y pídale un informe con un sello de tiempo válido.
next-unsigned = Pida al taller el informe firmado.
next-receipt-open = Vea si indicó el comprobante tal como se lo dio el taller cuando dejó la máquina; si es así, pregunte al taller por el motivo que aparece arriba junto a su comprobante.
next-keep-receipt = Guarde este archivo. Cuando el trabajo esté hecho, elija arriba el informe como documento y este archivo como comprobante.
next-unsealed = Pregunte al taller qué más muestra cómo estaba la máquina antes del trabajo, como fotos o un testigo; la próxima vez, pida el comprobante antes de dejar la máquina.
next-give-both = Indique arriba, en «¿Qué más tiene?», su comprobante y el certificado del taller; si no tiene el certificado, pídaselo al propio taller.
next-give-receipt = Indique arriba, en «¿Qué más tiene?», su comprobante; si solo lo tiene en papel, compare la huella.
next-give-certificate = Pida al propio taller su certificado, un archivo, e indíquelo arriba, en «¿Qué más tiene?». O haga que el taller le lea el SHA-256 de su certificado, 64 letras y cifras, y compárelo con el de abajo, en «¿El certificado servía para firmar?».
next-compare-pages = Compare las páginas impresas con las cifras de esta página, o compruebe el informe con la página completa de la versión que lo hizo.
next-ask = Pregunte al taller por lo que aquí no se puede determinar.
next-nothing = Aquí no hay nada más que comprobar. Guarde juntos el informe, su comprobante y esta página.
done-no = La comprobación ha terminado. Hay algo mal: véalo abajo.
done-cannot-tell = La comprobación ha terminado. No ha encontrado nada mal; algunas cosas no se pueden determinar: véalas abajo.
done-unsigned = La comprobación ha terminado. No está firmado, así que un cambio no se notaría: véalo abajo.
done-yes = La comprobación ha terminado. No ha encontrado nada mal.

## En qué se basa una respuesta (véase command.ftl)

because-signed-with = firmado con la clave de «{ $name }»
because-certificate-digest = SHA-256 de su certificado: { $digest }
because-issued-by = el certificado lo emitió «{ $name }»
because-issued-by-itself = este certificado lo hizo quien firmó; es lo habitual en un taller pequeño, y solo el taller puede decirle que es el suyo
because-not-for-signing = el certificado no sirve para firmar documentos
because-no-signing-time = el documento no dice cuándo se firmó
because-not-valid-then = el certificado vale del { $from } al { $until }, y el documento se firmó el { $when }
because-as-signed = todos los bytes están como cuando se firmó
because-not-signed-no-trace = no está firmado, así que un cambio no se notaría
because-not-signed = no está firmado
because-no-sound-signature = no hay ninguna firma válida
because-no-trust = no ha indicado ningún certificado; cualquiera puede hacer una clave a cualquier nombre
because-given-certificate = el certificado de «{ $name }» es el que usted indicó
because-given-authority = el certificado de «{ $name }» es el que usted indicó
because-under-given = el certificado de «{ $name }» se emitió bajo el de «{ $above }» (SHA-256 { $digest }), que usted indicó; no se comprueba si se revocó
because-under-given-authority = el certificado de «{ $name }» se emitió bajo el de «{ $above }» (SHA-256 { $digest }), que usted indicó; no se comprueba si se revocó
because-not-named = se firmó con una clave que no corresponde a ningún certificado de los que indicó
because-signers-clock = el reloj de quien firmó marcaba { $when }
because-nobody-attests = nadie más da fe de la hora
because-attests = «{ $name }» da fe de que la firma existía el { $when }
because-too-far-apart = entre las dos horas hay más de diez minutos
because-not-valid-at-stamp = el certificado de quien firmó no estaba vigente entonces
because-not-authority = no ha indicado el certificado de esa autoridad; cualquiera puede montar una
because-signature-unreadable = la firma no se puede leer
because-signature-form = la firma no tiene la forma que le da retestify
because-its-signature-form = su firma no tiene la forma que le da retestify
because-signature-content = la firma se hizo sobre otros bytes que estos
because-signature-key = la firma no se hizo con la clave que nombra
because-stamp-gone = falta el sello de tiempo con el que se hizo la firma
because-added-after = se le añadió algo después de firmarlo
because-stamp-unreadable = el sello de tiempo no se puede leer
because-stamp-content = el sello de tiempo se hizo sobre otra cosa
because-stamp-no-certificate = el sello de tiempo viene sin el certificado de su autoridad
because-stamp-not-meant = el certificado del sello de tiempo no sirve para sellar la hora, o no estaba vigente entonces
because-stamp-key = el sello de tiempo no se hizo con la clave que nombra
because-stamp-kind = el sello de tiempo se hizo con una clase de clave que este programa no conoce
because-form = no es un PDF de la forma que hace retestify: { $why }
because-cut = no termina como debe terminar un PDF: está cortado, o se añadió algo tras el final
because-attachments-unreadable = sus archivos adjuntos no se pueden leer
because-attachments-large = sus archivos adjuntos son mayores de lo que este programa los hace nunca
because-attachment-twice = tiene dos archivos adjuntos llamados `{ $file }`
because-other-signature = la firma que muestra un lector de PDF no es la que se hizo sobre los bytes de este archivo
because-revisions = no tiene exactamente las dos revisiones de un documento firmado
because-carries-nothing = no contiene archivos: no es ni un informe ni un comprobante
because-carries-report = contiene exactamente lo que debe contener un informe
because-carries-receipt = contiene exactamente lo que debe contener un comprobante: ni trabajo, ni prueba final, ni resultado
because-file-missing = falta: { $input }
because-file-foreign = no debería estar adjunto: { $file }
because-no-seal-to-compare = no tiene ningún sello con el que comparar los archivos
because-file-not-sealed-one = cambiado después de sellarse ({ $stage }): { $input }
because-file-sealed-missing = se selló ({ $stage }) y ahora falta: { $input }
because-file-not-sealed = sin sellar ({ $stage }): { $input }
because-retest-not-sealed = la prueba final no se selló
because-files-as-sealed = los { $count } archivos que se sellaron están como se sellaron
because-no-seal = no hay ningún sello
because-seal-after-signature = { $file } tiene una hora posterior a la de la firma
because-seal = { $stage }, sellada el { $when }
because-seal-by-hand = { $stage }, sellada el { $when } (hora puesta a mano)
because-seal-amends = { $stage }, sellada el { $when }, en sustitución de un sello anterior: { $reason }
because-seal-by-hand-amends = { $stage }, sellada el { $when } (hora puesta a mano), en sustitución de un sello anterior: { $reason }
because-not-a-seal = { $file } no es un sello: { $why }
because-seal-name = { $file } no es el nombre que sigue en la cadena de sellos
because-seal-incomplete = { $file } no incluye todos los archivos de su etapa
because-seal-previous = { $file } no concuerda con el sello anterior: ese sello se cambió o se sustituyó después de hacer { $again }
because-seal-order = { $file } no tiene ningún sello anterior al que seguir
because-seal-no-reason = { $file } sella su etapa por segunda vez sin dar un motivo
because-seal-clock = { $file } tiene una hora anterior a la del sello que lo precede
because-seal-other-job = { $file } nombra otro trabajo que el primer sello
because-seal-of-other-job = { $file } es un sello del trabajo { $theirs }, y este es el trabajo { $ours }
because-seal-before-measured = { $file } se selló el { $when }, antes de hacer la { $stage }, el { $measured }
because-signed-before-measured = se firmó el { $when }, antes de hacer la { $stage }, el { $measured }
because-sealed-again-late = la prueba inicial se cambió y se volvió a sellar el { $when }, cuando el trabajo ya había empezado el { $started }: lo que se cambió pudo escribirse entonces
because-seals-work-hidden = no se puede leer cuándo empezó el trabajo, así que tampoco si los sellos son anteriores
because-baseline-old = la prueba inicial se hizo el { $when }, { $days } días antes de empezar el trabajo: puede ser la de una visita anterior
because-limits-as-sealed = tal como se sellaron el { $when }
because-limits-work-hidden = no se puede leer cuándo empezó el trabajo: antes podían ser otros
because-limits-work-started = pero el trabajo había empezado el { $when }: antes podían ser otros
because-limits-not-first = no son los que se sellaron primero
because-amendment-says = la enmienda dice: { $reason }
because-own-fingerprint = es { $fingerprint }
because-given-fingerprint = la indicada es { $fingerprint }
because-no-receipt = para compararla, indique su comprobante o copie la huella que lleva impresa
because-receipt-itself = esto ya es un comprobante: guárdelo y, cuando el trabajo esté hecho, compruebe el informe e indique este comprobante junto con él
because-receipt-not-sound = el comprobante que indicó no es válido: { $why }
because-not-a-fingerprint = lo que indicó no es una huella: cópiela entera, con o sin guiones; al menos sus primeras 26 letras y cifras
because-receipt-same-key = el comprobante está firmado con la misma clave
because-receipt-not-signed = el comprobante no está firmado: solo vale porque lo tiene usted en sus manos
because-receipt-by-other = el comprobante se firmó con la clave de «{ $receipt }», y este documento con otra distinta, de «{ $name }»
because-receipt-signed-only = el comprobante se firmó con la clave de «{ $name }», y este documento no tiene ninguna firma válida
because-receipt-work-hidden = el comprobante tiene fecha del { $when }, y no se puede leer cuándo empezó el trabajo: no demuestra que la prueba inicial se sellara antes
because-receipt-late = el comprobante tiene fecha del { $when }, cuando el trabajo ya había empezado el { $started }: no demuestra que la prueba inicial se sellara antes
because-seal-replaced = el comprobante muestra { $old }; { $new } lo sustituyó el { $when }, con cambios en { $files }
because-other-job = el comprobante es del trabajo { $theirs }; este es el trabajo { $ours }
because-a-report = es un informe, no un comprobante
because-carries-no-seal = no contiene ningún sello
because-same-result = al juzgar de nuevo los datos sale el mismo resultado
because-other-result = al juzgar de nuevo los datos sale otro resultado: { $place }
because-result-of-other-version = el resultado lo hizo { $tool }, y esta versión lo lee o lo juzga de otra manera
because-inputs-refused = los datos no se pueden juzgar: { $why }
because-not-a-result = result.json no es un resultado
because-receipt-has-no-result = un comprobante no contiene resultado: todavía no se ha juzgado nada
because-report-without-result = no contiene resultado, y un informe debe contenerlo
because-no-listed-files = no hay ninguno
because-one-listed-file = 1 foto o grabación, que guarda el taller; si tiene su carpeta, la comprueba la orden `retestify verify --with`
because-listed-files = { $count } fotos y grabaciones, que guarda el taller; si tiene su carpeta, las comprueba la orden `retestify verify --with`
because-pages-same = compuestas de nuevo con lo que contiene, son iguales hasta el último byte
because-photos-not-compared = no se ha comparado si las fotos que muestran son las que se sellaron; si tiene la carpeta del taller, las compara la orden `retestify verify --with`
because-pages-no-time = { $file } no da ninguna hora
because-pages-not-signed-bytes = sus bytes no son los que se firmaron, así que no hay con qué comparar
because-pages-form-missing = dice que se compuso con el formato propio del taller, y no contiene { $file }
because-pages-own-form = se compusieron con el formato propio del taller, que puede imprimir cualquier cosa. La página 1 lo dice y da el dictamen y las cifras de arriba; fíese de estos. El formato va adjunto: { $files }
because-pages-own-form-unread = sus datos no se pueden leer, así que ninguna página puede decir lo que dan
because-pages-own-form-first = se compusieron con el formato propio del taller, y falta o se cambió la página que va antes de un formato así y da el dictamen y las cifras exigidas
because-pages-not-opened = no se puede abrir
because-pages-cannot-set = esta es la página pequeña, que no puede volver a hacer las páginas, así que no se compararon; la grande las compara
because-pages-differ = la página { $page } dice «{ $printed }», donde sus datos dan «{ $wanted }»
because-pages-differ-otherwise = sus palabras son las que dan sus datos, pero el documento no es como este programa lo hace con ellos: difiere una imagen, un dibujo o su estructura
because-pages-refused = no se pueden componer de nuevo: { $why }
because-pages-other-version = lo hizo { $tool }, y esta es { $own }: solo aquella versión compone las mismas páginas
because-pages-no-mark = no contiene { $file }, y un informe debe contenerlo
because-pages-before = no contiene { $file }: lo hizo una versión anterior a la 0.4.0, que componía otras páginas
because-pages-mark-unreadable = { $file } no dice qué documento es
because-more-of-these = y { $count } más como estos

because-stage-baseline = prueba inicial
because-stage-retest = prueba final

## Textos fijos de la página

page-title = Comprobar un informe de reparación
page-lead = Elija el PDF que le dieron. Se comprueba aquí, en su propio dispositivo. No se envía nada y no se guarda nada.
page-language = Idioma
page-document = El informe o comprobante que quiere comprobar
page-document-help = Un archivo PDF. En un teléfono, elija «Archivos».
page-more = ¿Qué más tiene?
page-receipt = Su comprobante de antes del trabajo
page-receipt-help = El PDF que le dieron al dejar la máquina. Con él, esta página puede decir si las primeras lecturas y los límites siguen siendo los de aquel día.
page-fingerprint = O la huella que lleva impresa
page-fingerprint-help = Las 32 letras y cifras. No importan las mayúsculas, los guiones ni los espacios.
page-certificate = El certificado del taller
page-certificate-help = Un archivo como shop.pem, que le haya dado el propio taller y no venga con este informe. Con él, esta página puede decir si de verdad firmó ese taller.
page-authority = El certificado de una autoridad de sellado de tiempo
page-authority-help = Solo si un tercero confirmó la hora de la firma y usted tiene su certificado.
page-unpacking = Preparando …
page-checking = Comprobando …
page-no-script = Esta página comprueba documentos con un programa que lleva dentro. Su navegador no lo ejecuta: permita JavaScript en esta página. La página no tiene acceso a la red.
page-too-old = Este navegador es demasiado antiguo para esta página. La abre cualquier navegador de 2023 o posterior.
page-failed = La comprobación se detuvo antes de terminar. Considere el documento como no comprobado.
page-not-pdf = Este archivo no es un PDF. Elija el informe o el comprobante.
page-receipt-not-pdf = El archivo que ha indicado como comprobante no es un PDF.
page-too-large = Este archivo es mayor que cualquier documento de este programa.
page-bad-certificate = Lo que ha indicado como certificado no es un archivo de certificado. No se ha tenido en cuenta.
page-wrong = Qué está mal
page-differs = Lo que su comprobante muestra de otro modo
page-on-receipt = su comprobante
page-in-document = este documento
page-what = Qué es
page-despite = Algo está mal en este documento, como se dice arriba. No dé por seguro lo que sigue.
page-before = antes
page-after = después
page-limit = límite
page-told = Hasta dónde puede fiarse
page-codes = La huella: un código de las primeras lecturas y los límites
page-next = Qué hacer ahora
page-questions = Todas las preguntas con su respuesta
page-questions-lead = Cada respuesta vale por sí sola. Un «sí» a una pregunta no compensa un «no» a otra.
page-attached = Los archivos que contiene
page-attached-lead = Son las propias lecturas, límites y sellos. Al mirarlos no se ejecuta nada de lo que contienen.
page-look = Ver
page-save = Guardar
page-hide = Ocultar
page-not-text = Este archivo no es texto. Guárdelo para abrirlo con otro programa.
page-cut-short = El archivo es más largo. Guárdelo para ver el resto.
page-programs = Las respuestas para programas (JSON)
page-cannot-know = Lo que esta página no puede saber
page-cannot-1 = Si una lectura era cierta cuando se anotó. Quien tiene el instrumento puede anotar otra cosa.
page-cannot-2 = Si la máquina sigue como en la prueba final.
page-cannot-3 = Si un certificado es de verdad del taller. Pídaselo al propio taller, en persona o en su propia web.
page-cannot-4 = Si robaron una clave o se retiró un certificado.
page-cannot-5 = Si esta misma página es auténtica. Quien quiera engañarle podría darle una que siempre diga que sí.
page-about = Sobre esta página
page-about-copy = Consiga una copia de esta página de quienes publican el programa retestify, no del taller cuyo informe comprueba. Compare la cifra de abajo con la que ellos publican. El README del programa explica cómo construir usted la misma página.
page-about-keep = Guarde la página junto al informe: esta versión seguirá respondiendo de la misma manera.
page-about-offline = La página no necesita red, y una regla que lleva dentro impide que su navegador la use para ella.
page-version = Versión
page-kind = Clase
page-kind-whole = La página completa: también vuelve a hacer las páginas del archivo y las compara.
page-kind-light = La página pequeña: responde a todas las preguntas menos una. No compara las páginas del archivo con el resultado.
page-digest = SHA-256 del programa de esta página (su parte compilada)

## Los archivos de un documento

file-described = { $what } ({ $file })
file-shop = los datos del taller
file-job = la máquina, el cliente, el problema, los instrumentos
file-limits = lo que había que medir y los límites
file-baseline = las lecturas de antes del trabajo
file-work = lo que se hizo
file-retest = las lecturas de después del trabajo
file-result = todas las cifras, para programas
file-document = cómo se hicieron las páginas, para programas
file-seal = un sello
file-size = { $size } kB
file-form = parte del formato propio del taller
