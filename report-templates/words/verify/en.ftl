### What is said to those who check a document, in English: by `retestify verify`, and on
### the page that does the same in a browser. Messages that start with `page-` are fixed
### words of that page. A shop's own wording does not replace any of these: whoever checks
### a document must hear it in words that the signer did not choose.

## What was verified

about-report = This is a report: job { $job }, { $machine }, for { $customer }.
about-report-again = This is a report that was made again (issue { $issue }): job { $job }, { $machine }, for { $customer }.
about-receipt = This is a receipt: job { $job }, { $machine }, for { $customer }.
unread-report = This is a report; what it carries cannot be read as a job.
unread-receipt = This is a receipt; what it carries cannot be read as a job.
unread = This is neither a report nor a receipt that this page can read.
heading-report = What its readings give, worked out by this page
heading-receipt = What was measured before the work, worked out by this page
state-before-work = A receipt shows the machine as it came, before any work. That a test fails here is expected: it is why the machine was brought in. Whether the work has helped stands in the report.
result-before-work = before the work: { $result }
worked-out = Its inputs give, worked out again here: { $says }
figure = { $name }: { $before }; { $limit }; { $result }
figure-before-after = { $name }: before { $before }, after { $after }; { $limit }; { $result }
cannot-show = No seal and no signature can show that a reading was true when it was written.

## What the receipt that was given shows otherwise

differs = The receipt that was given shows something else than this document:
differs-line = { $name }: receipt { $receipt }; this document { $document }
differs-limit = { $name }, limit
differs-missing = nothing
differs-elsewhere = All that the receipt shows of the machine before the work, this document shows too. What differs is something else in the files.
differs-rest = All else that the receipt shows of the machine before the work is the same.

## Questions and answers

question-intact = Is it unchanged since it was signed?
question-signer = Was the certificate fit to sign, and valid then?
question-expected-signer = Is it signed with a certificate that you gave?
question-files = Are the files in it as they were sealed?
question-chain = Is the chain of seals unbroken, do its times fit?
question-limits = Are the limits those sealed before the work?
question-fingerprint = Does the baseline match the customer's receipt?
question-result = Do its inputs give the same result again?
question-pages = Do its pages show that result?
question-time = Does a time-stamp authority attest the time?
question-listed-files = Are the files kept by the shop unchanged?

answer-yes = yes
answer-no = no
answer-cannot-tell = cannot tell
answer-not-asked = not checked
answer-none = none was asked
answer-despite = yes, but this alone does not help
answer-unsettled-bytes = does not count: the file was changed after it was signed
answer-unsettled-files = does not count: the files are not those that were sealed
answer-unsettled-seals = does not count: the seals do not fit together

## What an answer is about, in a word or two

topic-intact = Since it was signed
topic-pages = Its pages
topic-expected-signer = Who signed it
topic-fingerprint = Your receipt
topic-chain = The seals
topic-files = The files in it
topic-limits = The limits
topic-result = The result
topic-signer = The certificate
topic-time = The time of signing
topic-listed-files = Photos and recordings

## The answers on the page, as they are said to a customer

told-intact-yes = Nothing in it was changed after it was signed.
told-intact-despite = Nothing was changed after it was signed, at the very end: what is wrong in it was in it by then.
told-intact-no = It is not as it was when it was signed. Do not rely on anything in it.
told-intact-cannot-tell = It is not signed. If anybody changed it, that would not show.
told-pages-yes = Its own pages show exactly what its readings give.
told-pages-no = Its own pages do not show what its readings give. Do not rely on what stands on them.
told-pages-cannot-tell = Its own pages could not be compared with its readings. Compare them yourself with what stands here.
told-pages-unsettled = Its own pages show what its readings give as they are now.
told-signed-unknown = It is signed in the name of “{ $name }”. Anybody can sign in any name. Whether it was really this shop can be told with its certificate, a file that you get from the shop itself.
told-signed-trusted = It is signed with the key of “{ $name }”: the certificate that you gave shows it. That is the shop, if you had the certificate from the shop itself.
told-letterhead = The letterhead names “{ $name }”; the name in the signature is another.
told-same-key = Your receipt is signed with the same key, and is as it was when it was signed.
told-signed-other = It is signed with the key of “{ $name }”, and no certificate that you gave belongs to it.
told-fingerprint-yes = It is made from the very first readings and limits that your receipt shows.
told-fingerprint-no = It is not made from the first readings and limits that were sealed for the receipt.
told-fingerprint-innocent = There may be an innocent reason: the receipt of another job or of an earlier visit, a receipt that a later one replaced, or an older report of the same job. If it is none of these, the first readings or the limits are not those of the day you left the machine.
told-fingerprint-typed = There may be an innocent reason: a letter that was typed wrong, the receipt of another job or of an earlier visit, a receipt that a later one replaced, or an older report of the same job. If it is none of them, the first readings or the limits are not those of the day you left the machine.
told-fingerprint-cannot-tell = Whether it is made from the first readings and limits that your receipt shows cannot be told.
told-fingerprint-unsettled = It has the same seal as your receipt, but what is in it is not what was sealed.
told-fingerprint-not-asked = You have not given your receipt. With it, this page can tell whether the first readings and the limits are still those of the day you left the machine.
told-signer-no = The certificate that it was signed with was not valid, or not meant for this.
told-signer-cannot-tell = Whether the certificate was valid when it was signed cannot be told.
told-files-no = The files in it are not as they should be.
told-files-cannot-tell = Not all of the files in it were sealed, so a change of those would not show.
told-chain-no = The seals in it do not fit together, or their times cannot be right: one was changed, removed or made later.
told-chain-cannot-tell = Nothing in it was sealed before the work. The first readings and the limits could have been written afterwards.
told-chain-open = The seals in it fit together, but their times leave something open.
told-limits-no = The limits were changed after they were first sealed.
told-limits-cannot-tell = Whether the limits were fixed before the work cannot be told.
told-result-no = Its readings do not give the result that it carries.
told-result-cannot-tell = Its readings do not give the same result with this version of the page. The version that made it may say more.
told-time-no = The time-stamp on it is not good.
told-time-cannot-tell = Another party says when it was signed, but you have not given that party's certificate.
told-listed-files-no = Photos or recordings are not those that were sealed.
told-listed-files-cannot-tell = Whether photos and recordings are those that were sealed cannot be told.

## The fingerprints beside each other

codes-in-report = In this report
codes-in-receipt = In this receipt
codes-on-receipt = On the receipt that you gave
codes-copied = As you typed it
codes-agree = They agree.
codes-agree-open = The letters agree: it is the same seal. What cannot be told of it stands above.
codes-agree-unsettled = The letters agree, so it is the same seal. What is wrong is that something in this document is no longer as it was sealed.
codes-differ-all-over = They are two different codes.
codes-differ = They differ where the letters are underlined.
codes-alone = Compare it, letter by letter, with the one that is printed on your receipt.
codes-keep = When the work is done, the report must show the same one.

## What the reader can do now: one of these

next-no-document = Choose the file just as the shop gave it to you, not a copy that another program saved.
next-altered = Ask the shop for the file as it was signed, not a print, a scan or a copy that another program saved, and check that one here.
next-changed = Ask the shop what was changed, when and why, and for a report with the files as they were sealed.
next-limits = Ask the shop which limits were changed and why, and whether you were told before the work.
next-other-receipt = See whether you gave the newest receipt of this very job and the newest report; if you did, ask the shop why they do not match, and keep both files.
next-other-signer = Ask the shop itself, in person or at a number that you already had, which certificate it signs with, and compare its SHA-256 with the one below.
next-not-valid = Ask the shop for a report that is signed with a valid certificate.
next-time = Take the time of signing as the shop's own word, and ask the shop for a report with a sound time-stamp.
next-unsigned = Ask the shop for the signed report.
next-receipt-open = See whether you gave the receipt just as the shop gave it to you when you left the machine; if you did, ask the shop about the reason that stands with your receipt above.
next-keep-receipt = Keep this file. When the work is done, choose the report above as the document, and this file as your receipt.
next-unsealed = Ask the shop what else shows how the machine was before the work, such as photos or a witness; the next time, ask for the receipt before you leave the machine.
next-give-both = Give your receipt and the shop's certificate above, under “What else do you have?”; if you have no certificate, ask the shop itself for it.
next-give-receipt = Give your receipt above, under “What else do you have?”; if you have it on paper only, compare the fingerprint.
next-give-certificate = Ask the shop itself for its certificate, a file, and give it above, under “What else do you have?”. Or have the shop read you the SHA-256 of its certificate, 64 letters and digits, and compare it with the one below, under “Was the certificate fit to sign”.
next-compare-pages = Compare the printed pages with the figures on this page, or check the report with the large page of the version that made it.
next-ask = Ask the shop about what cannot be told here.
next-nothing = There is nothing more to check here. Keep the report, your receipt and this page together.
done-no = The check is done. Something is wrong: see below.
done-cannot-tell = The check is done. It found nothing wrong; some things it cannot tell: see below.
done-unsigned = The check is done. It is not signed, so a change would not show: see below.
done-yes = The check is done. It found nothing wrong.

## What an answer rests on (see command.ftl), where the page must say it otherwise than the
## command: there, things are given by options

because-issued-by-itself = whoever signed made this certificate; that is usual for a small shop, and only the shop can tell you that it is its own
because-file-missing = missing: { $input }
because-file-foreign = does not belong in it: { $file }
because-file-not-sealed-one = changed after it was sealed ({ $stage }): { $input }
because-file-sealed-missing = sealed ({ $stage }), and missing now: { $input }
because-file-not-sealed = not sealed ({ $stage }): { $input }
because-files-as-sealed = all { $count } files that were sealed are as they were sealed
because-no-trust = you gave no certificate; anyone can make a key in any name
because-not-named = it was signed with a key that no certificate you gave belongs to
because-given-certificate = the certificate of “{ $name }” is the one you gave
because-given-authority = the certificate of “{ $name }” is the one you gave
because-under-given = the certificate of “{ $name }” was issued under that of “{ $above }” (SHA-256 { $digest }), which you gave; whether it was revoked is not checked
because-under-given-authority = the certificate of “{ $name }” was issued under that of “{ $above }” (SHA-256 { $digest }), which you gave; whether it was revoked is not checked
because-not-authority = you gave no certificate of that authority; anyone can run one
because-no-receipt = to compare it, give your receipt, or copy the fingerprint printed on it
because-one-listed-file = 1 photo or recording, which the shop keeps; where you have its folder, the command `retestify verify --with` checks it
because-listed-files = { $count } photos and recordings, which the shop keeps; where you have its folder, the command `retestify verify --with` checks them
because-photos-not-compared = whether the photos on them are those that were sealed was not compared; where you have the shop's folder, the command `retestify verify --with` compares them
because-pages-cannot-set = this is the small page, which cannot make the pages again, so they were not compared; the large page compares them

## Fixed words of the page

page-title = Check a repair report
page-lead = Choose the PDF that you were given. It is checked here, on your own device. Nothing is sent, and nothing is kept.
page-language = Language
page-document = The report or receipt to check
page-document-help = A PDF file. On a phone, choose “Files”.
page-more = What else do you have?
page-receipt = Your receipt from before the work
page-receipt-help = The PDF that you were given when you left the machine. With it, this page can tell whether the first readings and the limits are still those of that day.
page-fingerprint = Or the fingerprint printed on it
page-fingerprint-help = The 32 letters and digits. Capitals, hyphens and spaces do not matter.
page-certificate = The shop's certificate
page-certificate-help = A file such as shop.pem, which you had from the shop itself and not with this report. With it, this page can tell whether it was really this shop that signed.
page-authority = The certificate of a time-stamp authority
page-authority-help = Only where another party confirmed the time of signing, and you have that party's certificate.
page-unpacking = Getting ready …
page-checking = Checking …
page-no-script = This page checks documents with a program inside it. Your browser does not run it: allow JavaScript for this page. The page has no access to the network.
page-too-old = This browser is too old for this page. A browser of 2023 or later can open it.
page-failed = The check stopped before it was finished. Take the document as not checked.
page-not-pdf = This file is not a PDF. Choose the report or the receipt.
page-receipt-not-pdf = The file that you gave as your receipt is not a PDF.
page-too-large = This file is larger than any document of this program.
page-bad-certificate = What you gave as a certificate is not a certificate file. It was left out.
page-wrong = What is wrong
page-differs = What your receipt shows otherwise
page-on-receipt = your receipt
page-in-document = this document
page-what = What it is
page-despite = Something is wrong with this document, as said above. Do not take what follows as settled.
page-before = before
page-after = after
page-limit = limit
page-told = How far you can rely on it
page-codes = The fingerprint: a code for the first readings and the limits
page-next = What to do now
page-questions = Every question and its answer
page-questions-lead = Each answer stands for itself. A “yes” to one question does not make up for a “no” to another.
page-attached = The files in it
page-attached-lead = These are the readings, limits and seals themselves. Nothing in them is run when you look at them.
page-look = Look
page-save = Save
page-hide = Hide
page-not-text = This file is not text. Save it to open it with another program.
page-cut-short = The file is longer. Save it to see the rest.
page-programs = The answers for programs (JSON)
page-cannot-know = What this page cannot know
page-cannot-1 = Whether a reading was true when it was written. Whoever holds the instrument can write down something else.
page-cannot-2 = Whether the machine is still as it was at the retest.
page-cannot-3 = Whether a certificate is really the shop's. Take it from the shop itself, in person or from its own website.
page-cannot-4 = Whether a key was stolen, or a certificate withdrawn.
page-cannot-5 = Whether this very page is genuine. Somebody who wants to deceive you could hand you one that always says yes.
page-about = About this page
page-about-copy = Take a copy of this page from those who publish the program retestify, not from the shop whose report you check. Compare the figure below with the one that they publish. The program's README says how to build the same page yourself.
page-about-keep = Keep the page with the report: this version will go on answering in the same way.
page-about-offline = The page needs no network, and a rule inside it keeps your browser from using one for it.
page-version = Version
page-kind = Kind
page-kind-whole = The whole page: it also makes the pages of the file again, and compares them.
page-kind-light = The small page: it answers every question but one. It does not compare the pages of the file with the result.
page-digest = SHA-256 of the program in this page (its compiled part)

## The files in a document

file-described = { $what } ({ $file })
file-shop = the shop's own details
file-job = the machine, the customer, the complaint, the instruments
file-limits = what was to be measured, and the limits
file-baseline = the readings before the work
file-work = what was done
file-retest = the readings after the work
file-result = every figure, for programs
file-document = how the pages were made, for programs
file-seal = a seal
file-size = { $size } KB
file-form = part of the shop's own form
