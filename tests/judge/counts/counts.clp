; Counts and thresholds told as productions, for the CLIPS engine.
;
; Python asserts the protocol's numbers once (`band`, `number`) and then one `event` per entry, in
; canonical order, with `now`. Productions of the first part take an event into what is known;
; those of the second hold a number or a count against a limit and conclude a `verdict`. Every
; verdict rests on `logical` facts: when one of them goes, CLIPS takes the verdict back by itself.
;
; All amounts are whole numbers: seconds since 1970, ten-thousandths of a degree, gram or point.
; 0 stands for "no pup named", "no time yet" and "no amount given".

; --- what may be said -------------------------------------------------------------------------

(deftemplate event
  (slot kind) (slot seq) (slot t) (slot pup (default 0)) (slot word (default none))
  (slot amount (default 0)) (slot high (default 0)) (slot count (default 1)) (slot foul (default no))
  (multislot signs))

(deftemplate band (slot rule) (slot clock) (slot level) (slot when) (slot value))
(deftemplate number (slot rule) (slot name) (slot value))
(deftemplate limit (slot rule) (slot clock) (slot level) (slot value))
(deftemplate now (slot t))
(deftemplate verdict (slot rule) (slot subject) (slot level))

; --- what is known ----------------------------------------------------------------------------

(deftemplate pup (slot n) (slot born) (slot seq) (slot state) (slot here (default yes)))
(deftemplate owed (slot pup) (slot born))
(deftemplate answered (slot pup) (slot fate))
(deftemplate spare (slot id))
(deftemplate counted (slot n) (slot by))
(deftemplate reading (slot of) (slot t) (slot value) (slot stage) (slot stood (default no)))
(deftemplate cold-since (slot pup) (slot t))
(deftemplate fever-since (slot t))
(deftemplate sign (slot name))
(deftemplate discharge (slot colour) (slot amount) (slot foul) (slot t))
(deftemplate score (slot pup) (slot t) (slot low) (slot high) (slot before) (slot best))
(deftemplate scale (slot pup) (slot first) (slot first-t) (slot late) (slot last) (slot last-t))
(deftemplate loss (slot pup) (slot t) (slot kind) (slot seq))
(deftemplate loss-call (slot kind) (slot until))
(deftemplate whelping
  (slot finished (default no)) (slot by (default none)) (slot called (default no))
  (slot zero (default 0)) (slot stirred (default 0)) (slot begun (default no)) (slot cut (default no))
  (slot last-birth (default 0)) (slot rested (default no)) (slot work (default 0))
  (slot calm-from (default 0)) (slot looked (default no)) (slot ended (default no))
  (slot ended-by (default none)))

(deffacts nothing-yet (whelping))

(deffunction in-band (?when ?value ?edge)
  (switch ?when
    (case at-or-above then (>= ?value ?edge))
    (case at-or-below then (<= ?value ?edge))
    (case above then (> ?value ?edge))
    (case below then (< ?value ?edge))))

(deffunction trust (?by) (switch ?by (case xray then 3) (case scan then 2) (default 1)))

(deffunction name-of (?n) (if (eq ?n 0) then "dam" else (str-cat "pup " ?n)))

(deffunction setting (?rule ?name)
  (do-for-fact ((?f number)) (and (eq ?f:rule ?rule) (eq ?f:name ?name)) (return ?f:value))
  (printout t "no number " ?rule " " ?name crlf)
  (halt))

; The first band of a clock in which a value lies, or FALSE: reminders' bands as well.
(deffunction any-band (?rule ?clock ?value)
  (any-factp ((?b band)) (and (eq ?b:rule ?rule) (eq ?b:clock ?clock)
                              (in-band ?b:when ?value ?b:value))))

; After the whelping: called finished, or calm since the last birth, the caesarean or a push, and
; before a caesarean since waters, a sac or a part as well.
(deffunction is-over (?finished ?zero ?stirred ?t ?calm)
  (or (eq ?finished yes) (and (<> ?zero 0) (>= (- ?t ?stirred) ?calm))))

(deffunction age-band (?rule ?age)
  (bind ?best none) (bind ?from -1)
  (do-for-all-facts ((?f number)) (and (eq ?f:rule ?rule) (eq (sub-string 1 5 ?f:name) "from "))
    (if (and (>= ?age ?f:value) (> ?f:value ?from))
      then (bind ?from ?f:value) (bind ?best (sub-string 6 (str-length ?f:name) ?f:name))))
  ?best)

; --- births, deaths and leaving home ----------------------------------------------------------

; A pup is born: it owes an afterbirth, unless a spare one waits or she was cut open.
(defrule birth
  (declare (salience 50))
  (event (kind birth) (pup ?n) (t ?t) (seq ?s) (word ?state))
  ?w <- (whelping (cut ?cut) (looked ?looked))
  (not (taken ?s))
  =>
  (assert (taken ?s)
          (pup (n ?n) (born ?t) (seq ?s) (state ?state) (here (if (eq ?state dead) then no else yes))))
  (modify ?w (finished no) (zero ?t) (stirred ?t) (begun yes) (last-birth ?t) (work ?t) (rested no)
             (ended no) (ended-by none) (calm-from (if (eq ?cut yes) then 0 else ?t))
             (looked ?cut)))

(defrule birth-owes
  (declare (salience 49))
  (event (kind birth) (pup ?n) (t ?t) (seq ?s)) (whelping (cut no)) (not (debt ?s))
  (not (spare))
  =>
  (assert (debt ?s) (owed (pup ?n) (born ?t))))

(defrule birth-takes-up-a-spare-one
  (declare (salience 49))
  (event (kind birth) (pup ?n) (seq ?s)) (whelping (cut no)) (not (debt ?s))
  ?one <- (spare (id ?id)) (not (spare (id ?other&:(< ?other ?id))))
  =>
  (assert (debt ?s) (answered (pup ?n) (fate seen)))
  (retract ?one))

; Its sister's push and sac are no news any more: pushing and green begin anew with a birth.
(defrule birth-explains
  (declare (salience 48))
  (event (kind birth))
  ?f <- (sign (name pushing|green))
  =>
  (retract ?f))

(defrule death
  (declare (salience 50))
  (event (kind death) (pup ?n))
  ?p <- (pup (n ?n) (here yes))
  =>
  (modify ?p (here no)))

(defrule leaves-home
  (declare (salience 40))
  (event (kind left-home) (pup ?n))
  ?p <- (pup (n ?m) (here yes))
  (test (or (eq ?n 0) (eq ?n ?m)))
  =>
  (modify ?p (here no)))

; --- the ledger of afterbirths ----------------------------------------------------------------

(defrule afterbirth-of-a-pup-nobody-wrote-down
  (declare (salience 31))
  ?e <- (event (kind afterbirth) (pup ?n&~0))
  (not (pup (n ?n)))
  =>
  (modify ?e (pup 0)))

(defrule afterbirth-of-a-pup-that-owes
  (declare (salience 30))
  ?e <- (event (kind afterbirth) (pup ?n&~0) (count ?c) (word ?fate))
  ?o <- (owed (pup ?n))
  =>
  (retract ?o)
  (assert (answered (pup ?n) (fate ?fate)))
  (modify ?e (pup 0) (count (- ?c 1))))

(defrule afterbirth-found-after-all
  (declare (salience 30))
  ?e <- (event (kind afterbirth) (pup ?n&~0) (count ?c) (word ?fate))
  ?a <- (answered (pup ?n) (fate not-seen))
  =>
  (modify ?a (fate ?fate))
  (modify ?e (pup 0) (count (- ?c 1))))

(defrule afterbirth-of-a-pup-that-owes-none
  (declare (salience 29))
  ?e <- (event (kind afterbirth) (pup ?n&~0) (count ?c) (word ?fate) (seq ?s))
  (pup (n ?n))
  =>
  (if (neq ?fate not-seen) then (assert (spare (id (+ (* 100 ?s) ?c)))))
  (modify ?e (pup 0) (count (- ?c 1))))

(defrule afterbirth-settles-the-oldest
  (declare (salience 28))
  ?e <- (event (kind afterbirth) (pup 0) (count ?c&:(> ?c 0)) (word ?fate))
  ?o <- (owed (pup ?n) (born ?b))
  (not (owed (pup ?m) (born ?a&:(or (< ?a ?b) (and (= ?a ?b) (< ?m ?n))))))
  =>
  (retract ?o)
  (assert (answered (pup ?n) (fate ?fate)))
  (modify ?e (count (- ?c 1))))

(defrule afterbirth-too-many
  (declare (salience 28))
  ?e <- (event (kind afterbirth) (pup 0) (count ?c&:(> ?c 0)) (word ?fate) (seq ?s))
  (not (owed))
  =>
  (if (neq ?fate not-seen) then (assert (spare (id (+ (* 100 ?s) ?c)))))
  (modify ?e (count (- ?c 1))))

; A caesarean empties the womb: nothing is owed, and nothing of the count means anything.
(defrule caesarean-settles-all
  (declare (salience 30))
  (event (kind caesarean))
  ?f <- (owed (pup ?n))
  =>
  (retract ?f)
  (assert (answered (pup ?n) (fate caesarean))))

; --- the course of the whelping ---------------------------------------------------------------

(defrule caesarean
  (declare (salience 20))
  (event (kind caesarean) (t ?t) (seq ?s)) (not (taken ?s))
  ?w <- (whelping)
  =>
  (assert (taken ?s))
  (modify ?w (cut yes) (finished no) (zero ?t) (stirred ?t) (calm-from 0) (looked yes) (ended no)
             (ended-by none)))

(defrule finished
  (declare (salience 20))
  (event (kind finished) (t ?t) (word ?by) (seq ?s)) (not (taken ?s))
  ?w <- (whelping (zero ?zero) (looked ?looked))
  =>
  (assert (taken ?s))
  (modify ?w (finished yes) (called yes) (by ?by) (zero (if (= ?zero 0) then ?t else ?zero))
             (calm-from 0) (ended yes) (ended-by ?by)
             (looked (if (eq ?by breeder) then ?looked else yes))))

(defrule labour
  (declare (salience 20))
  (event (kind ?kind&contraction|waters|sac|part) (t ?t) (seq ?s)) (not (taken ?s))
  ?w <- (whelping (cut ?cut) (stirred ?stirred) (calm-from ?calm))
  =>
  (assert (taken ?s))
  (modify ?w (begun yes) (stirred (if (eq ?cut yes) then ?stirred else ?t)) (work ?t) (rested no)
             (calm-from (if (eq ?kind contraction) then 0 else ?calm))))

(defrule first-stage
  (declare (salience 20))
  (event (kind first-sign)) ?w <- (whelping (begun no))
  =>
  (modify ?w (begun yes)))

(defrule rest
  (declare (salience 20))
  (event (kind rest)) ?w <- (whelping (rested no))
  =>
  (modify ?w (rested yes)))

(defrule vet-looked
  (declare (salience 20))
  (event (kind vet) (word seen|arrived)) ?w <- (whelping (looked no))
  =>
  (modify ?w (looked yes)))

; A count never gives way to one that is trusted less.
(defrule count-first
  (declare (salience 20))
  (event (kind count) (count ?n) (word ?by)) (not (counted))
  =>
  (assert (counted (n ?n) (by ?by))))

(defrule count-better
  (declare (salience 20))
  (event (kind count) (count ?n) (word ?by))
  ?c <- (counted (n ?m) (by ?old))
  (test (and (>= (trust ?by) (trust ?old)) (or (neq ?n ?m) (neq ?by ?old))))
  =>
  (modify ?c (n ?n) (by ?by)))

; --- the dam's signs --------------------------------------------------------------------------

; Better ends them, and food ends what food cures; then the line's own signs are taken in.
(defrule sign-ends
  (declare (salience 25))
  (event (kind dam) (signs $? ?end&bright|recovered|ate $?))
  ?f <- (sign (name ?sign))
  (test (switch ?sign
    (case green then FALSE)
    (case refused-food then (neq ?end bright))
    (case refused-late then TRUE)
    (case vomited-late then TRUE)
    (default (neq ?end ate))))
  =>
  (retract ?f))

(defrule sign-shows
  (declare (salience 20))
  (event (kind dam) (signs $? ?sign&dull|refused-food|cannot-stand|collapsed $?))
  =>
  (assert (sign (name ?sign))))

; Off her food or vomiting says something of a fever only when the whelping is over.
(defrule sign-shows-late
  (declare (salience 20))
  (event (kind dam) (signs $? ?sign&refused-food|vomited $?) (t ?t))
  (whelping (finished ?f) (zero ?z) (stirred ?s))
  (test (is-over ?f ?z ?s ?t (setting dam-hot "calm")))
  =>
  (assert (sign (name (if (eq ?sign vomited) then vomited-late else refused-late)))))

(defrule pushes-after-the-end
  (declare (salience 19))
  (event (kind contraction)) (whelping (ended yes))
  =>
  (assert (sign (name pushing))))

(defrule discharge-is-the-newest
  (declare (salience 20))
  (event (kind discharge) (word ?colour) (amount ?a) (foul ?foul) (t ?t) (seq ?s)) (not (taken ?s))
  =>
  (do-for-all-facts ((?d discharge)) TRUE (retract ?d))
  ; A discharge whose colour nobody named does not say that the green has gone.
  (if (or (neq ?colour unknown) (eq ?a none))
   then (do-for-all-facts ((?d sign)) (eq ?d:name green) (retract ?d)))
  (assert (taken ?s) (discharge (colour ?colour) (amount ?a) (foul ?foul) (t ?t))))

(defrule green-a-day-later
  (declare (salience 19))
  (event (kind discharge) (word green|black) (amount ~none) (t ?t))
  (whelping (last-birth ?b&~0))
  (test (>= (- ?t ?b) (setting afterbirth-missing-at-end "green-after")))
  =>
  (assert (sign (name green))))

; --- temperatures -----------------------------------------------------------------------------

(deffunction dam-stage (?finished ?zero ?stirred ?begun ?t)
  (if (not (is-over ?finished ?zero ?stirred ?t (setting dam-hot "calm")))
    then (return (if (eq ?begun yes) then "labour" else "before")))
  (if (< (- ?t ?zero) (setting dam-hot "first-days")) then (return "day 0-3"))
  (if (< (- ?t ?zero) (setting dam-hot "until")) then (return "day 4-14"))
  (if (or (any-factp ((?p pup)) (eq ?p:here yes)) (not (any-factp ((?p pup)) TRUE)))
    then (return "later"))
  "gone")

(defrule dam-temperature
  (declare (salience 20))
  (event (kind temperature) (word dam) (t ?t) (amount ?c) (seq ?s)) (not (taken ?s))
  (whelping (finished ?f) (zero ?z) (stirred ?st) (begun ?begun))
  =>
  (assert (taken ?s))
  (bind ?hot (any-factp ((?v verdict)) (eq ?v:rule dam-hot)))
  (bind ?cold (any-factp ((?v verdict)) (eq ?v:rule dam-cold)))
  (bind ?stage (dam-stage ?f ?z ?st ?begun ?t))
  (if (and (eq ?stage "gone") ?hot) then (bind ?stage "later"))
  (bind ?judged (or ?cold (is-over ?f ?z ?st ?t (setting dam-cold "calm"))))
  (do-for-all-facts ((?r reading)) (eq ?r:of dam) (retract ?r))
  (assert (reading (of dam) (t ?t) (value ?c) (stage ?stage) (stood (if ?judged then yes else no))))
  (bind ?fever (and (not (member$ ?stage (create$ "before" "labour" "gone")))
                    (any-band dam-hot "fever" ?c)))
  (if (not ?fever) then (do-for-all-facts ((?x fever-since)) TRUE (retract ?x)))
  (if (and ?fever (not (any-factp ((?x fever-since)) TRUE))) then (assert (fever-since (t ?t)))))

(defrule other-temperature
  (declare (salience 20))
  (event (kind temperature) (word pup) (pup ?n) (t ?t) (amount ?c) (seq ?s)) (not (taken ?s))
  (pup (n ?n) (born ?b))
  =>
  (assert (taken ?s))
  (bind ?old (any-factp ((?r reading)) (and (eq ?r:of ?n)
               (< ?t (+ ?r:t (setting pup-cold "stands-for"))))))
  (do-for-all-facts ((?r reading)) (eq ?r:of ?n) (retract ?r))
  (bind ?band (age-band pup-cold (- ?t ?b)))
  (assert (reading (of ?n) (t ?t) (value ?c) (stage ?band)))
  (if (or (not ?old) (>= ?c (setting pup-cold "feed-from")))
    then (do-for-all-facts ((?x cold-since)) (eq ?x:pup ?n) (retract ?x)))
  (if (and (< ?c (setting pup-cold "feed-from")) (eq ?band "hour 1-24")
           (not (any-factp ((?x cold-since)) (eq ?x:pup ?n))))
    then (assert (cold-since (pup ?n) (t ?t)))))

(defrule box-temperature
  (declare (salience 20))
  (event (kind temperature) (word box) (t ?t) (amount ?c) (seq ?s)) (not (taken ?s))
  =>
  (assert (taken ?s))
  (do-for-all-facts ((?r reading)) (eq ?r:of box) (retract ?r))
  (bind ?youngest -1)
  (do-for-all-facts ((?p pup)) (and (eq ?p:here yes) (> ?p:born ?youngest))
    (bind ?youngest ?p:born))
  (assert (reading (of box) (t ?t) (value ?c)
                   (stage (if (< ?youngest 0) then none else (age-band box-cold (- ?t ?youngest)))))))

; --- scores, weights and losses ---------------------------------------------------------------

(defrule first-score
  (declare (salience 20))
  (event (kind score) (pup ?n) (t ?t) (amount ?low) (high ?high) (seq ?s)) (not (taken ?s))
  (pup (n ?n)) (not (score (pup ?n)))
  =>
  (assert (taken ?s) (score (pup ?n) (t ?t) (low ?low) (high ?high) (before -1) (best ?low))))

(defrule next-score
  (declare (salience 20))
  (event (kind score) (pup ?n) (t ?t) (amount ?low) (high ?high) (seq ?s)) (not (taken ?s))
  ?old <- (score (pup ?n) (low ?before) (best ?best))
  =>
  (assert (taken ?s))
  (modify ?old (t ?t) (low ?low) (high ?high) (before ?before) (best (max ?best ?before))))

; "Well" takes what stands: the score says nothing of now, but is remembered for a fall.
(defrule score-over
  (declare (salience 20))
  (event (kind pup-state) (pup ?n) (signs $? well $?))
  ?old <- (score (pup ?n) (t ~0))
  =>
  (modify ?old (t 0)))

(defrule first-weight
  (declare (salience 20))
  (event (kind weight) (pup ?n) (t ?t) (amount ?g) (seq ?s)) (not (taken ?s))
  (pup (n ?n) (born ?b)) (not (scale (pup ?n)))
  =>
  (bind ?late (> (- ?t ?b) (setting birth-weight "birth-within")))
  (assert (taken ?s) (scale (pup ?n) (first ?g) (late (if ?late then yes else no))
                            (first-t ?t) (last ?g) (last-t 0))))

(defrule next-weight
  (declare (salience 20))
  (event (kind weight) (pup ?n) (t ?t) (amount ?g) (seq ?s)) (not (taken ?s))
  ?old <- (scale (pup ?n))
  =>
  (assert (taken ?s))
  (modify ?old (last ?g) (last-t ?t)))

; A loss: a pup born dead, or the death of one that was born alive and still here.
(defrule loss-stillborn
  (declare (salience 45))
  (event (kind birth) (pup ?n) (t ?t) (word dead) (seq ?s)) (not (lost ?s))
  =>
  (assert (lost ?s) (loss (pup ?n) (t ?t) (kind stillborn) (seq ?s))))

(defrule loss-death
  (declare (salience 51))
  (event (kind death) (pup ?n) (t ?t) (seq ?s)) (not (lost ?s))
  (pup (n ?n) (here yes) (born ?b))
  =>
  (assert (lost ?s) (loss (pup ?n) (t ?t) (kind death) (seq ?s)))
  (if (>= (- ?t ?b) (setting litter-losses "first-day"))
    then (assert (new-call rest ?s))))

(defrule loss-again
  (declare (salience 44))
  (loss (t ?t) (kind ?kind) (seq ?s)) (lost ?s) (event (seq ?s))
  (loss (t ?a) (kind ?kind) (seq ?r&:(< ?r ?s)))
  (test (or (eq ?kind stillborn) (<= (- ?t ?a) (setting litter-losses "within"))))
  =>
  (assert (new-call ?kind ?s)))

; Every loss lets what stands stand for another week.
(defrule loss-lets-stand
  (declare (salience 43))
  (event (seq ?s) (t ?t)) (lost ?s)
  ?c <- (loss-call (until ?u))
  (test (and (< ?t ?u) (< ?u (+ ?t (setting litter-losses "within")))))
  =>
  (modify ?c (until (+ ?t (setting litter-losses "within")))))

(defrule loss-calls
  (declare (salience 42))
  ?f <- (new-call ?kind ?s)
  (event (seq ?s) (t ?t))
  =>
  (retract ?f)
  (assert (loss-call (kind ?kind) (until (+ ?t (setting litter-losses "within"))))))

(defrule loss-answered
  (declare (salience 20))
  (event (kind vet) (word advised|seen|arrived))
  ?c <- (loss-call)
  =>
  (retract ?c))

; The event has been taken in.
(defrule done
  (declare (salience 5))
  ?e <- (event)
  =>
  (retract ?e))
