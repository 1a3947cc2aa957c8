; The verdicts: a number or a count held against a limit. Read `counts.clp` first.

(deftemplate tally (slot of) (slot n))

; Everything that is counted, counted anew for every instant.
(defrule count-all
  (declare (salience 2))
  (now)
  =>
  (do-for-all-facts ((?f tally)) TRUE (retract ?f))
  (assert (tally (of owed) (n (length$ (find-all-facts ((?f owed)) TRUE))))
          (tally (of unseen) (n (length$ (find-all-facts ((?f answered)) (eq ?f:fate not-seen)))))
          (tally (of born) (n (length$ (find-all-facts ((?f pup)) TRUE))))))

; --- afterbirths ------------------------------------------------------------------------------

; Three or more owed at once.
(defrule afterbirths-behind
  (logical (number (rule afterbirths-behind) (name "how-many") (value ?many))
           (tally (of owed) (n ?n&:(>= ?n ?many))))
  =>
  (assert (verdict (rule afterbirths-behind) (subject "dam") (level watch))))

; More afterbirths than births, while that count still means something.
(defrule afterbirth-surplus
  (logical (exists (spare)) (whelping (cut no)))
  =>
  (assert (verdict (rule afterbirth-surplus) (subject "dam") (level watch))))

; The whelping looks over: called finished; or counted pups are born, or it was called finished
; once, and she rests or has been calm.
(defrule looks-over-finished
  (logical (now (t ?t)) (whelping (ended yes) (last-birth ~0)))
  =>
  (assert (over-by finished ?t)))

(defrule counted-well
  (logical (counted (n ?n) (by xray|scan)))
  =>
  (assert (how-many ?n)))

(defrule counted-ill
  (logical (not (counted (by xray|scan))))
  =>
  (assert (how-many -1)))

(defrule looks-over-quiet
  (logical (now (t ?t)) (whelping (ended no) (called ?called) (rested ?rested) (work ?work)
                                  (last-birth ~0))
           (tally (of born) (n ?born)) (how-many ?count)
           (number (rule afterbirth-missing-at-end) (name "calm") (value ?calm)))
  (test (or (eq ?called yes) (and (> ?count -1) (>= ?born ?count))))
  (test (or (eq ?rested yes) (>= (- ?t ?work) ?calm)))
  =>
  (assert (over-by quiet ?t)))

; One is owed at the end: by the time since the last birth.
(defrule afterbirth-missing-at-end
  (logical (over-by ? ?t) (tally (of owed) (n ?n&:(> ?n 0))) (whelping (last-birth ?b))
           (limit (rule afterbirth-missing-at-end) (clock main) (level ?level) (value ?span)))
  (test (>= (- ?t ?b) ?span))
  =>
  (assert (verdict (rule afterbirth-missing-at-end) (subject "dam") (level ?level))))

; One is owed, or was never seen and no vet has judged that, and she seems ill.
(defrule afterbirth-missing-and-ill
  (logical (over-by ? ?) (ill) (whelping (looked ?looked)) (tally (of owed) (n ?n)) (tally (of unseen) (n ?m)))
  (test (or (> ?n 0) (and (> ?m 0) (eq ?looked no))))
  =>
  (assert (verdict (rule afterbirth-missing-at-end) (subject "dam") (level go))))

(defrule ill-by-a-sign
  (logical (exists (sign (name dull|pushing|green))))
  =>
  (assert (ill)))

(defrule ill-by-a-fever
  (logical (reading (of dam) (value ?c))
           (band (rule afterbirth-missing-at-end) (clock "fever") (when ?when) (value ?edge)))
  (test (in-band ?when ?c ?edge))
  =>
  (assert (ill)))

(defrule ill-by-a-foul-discharge
  (logical (foul))
  =>
  (assert (ill)))

; --- the count of the pups --------------------------------------------------------------------

; The breeder calls it finished and fewer are born than an x-ray or a scan counted.
(defrule litter-short-finished
  (logical (whelping (ended-by breeder)) (tally (of born) (n ?born)) (counted (n ?n&:(< ?born ?n)) (by ?by&xray|scan)))
  =>
  (assert (verdict (rule litter-short) (subject "dam") (level (if (eq ?by xray) then call else watch)))))

; Calm since the last birth, and the x-ray count is not reached.
(defrule litter-short-calm
  (logical (now (t ?t)) (whelping (calm-from ?from&~0)) (tally (of born) (n ?born))
           (counted (n ?n&:(< ?born ?n)) (by xray))
           (limit (rule litter-short) (clock calm) (level call) (value ?span)))
  (test (>= (- ?t ?from) ?span))
  =>
  (assert (verdict (rule litter-short) (subject "dam") (level call))))

; --- the dam ----------------------------------------------------------------------------------

(defrule discharge-is-foul
  (logical (discharge (amount ~none) (colour ?colour) (foul ?foul)))
  (test (or (eq ?foul yes) (eq ?colour pus)))
  =>
  (assert (foul)))

(defrule foul-discharge
  (logical (or (foul) (discharge (amount ~none) (colour yellow))))
  =>
  (assert (verdict (rule foul-discharge) (subject "dam") (level call))))

(defrule foul-discharge-and-ill
  (logical (verdict (rule foul-discharge) (level call))
           (or (exists (sign (name dull|refused-food)))
               (and (reading (of dam) (value ?c))
                    (band (rule foul-discharge) (clock "fever") (value ?edge&:(>= ?c ?edge))))))
  =>
  (assert (verdict (rule foul-discharge) (subject "dam") (level go))))

(defrule dam-hot
  (logical (reading (of dam) (value ?c) (stage ?stage))
           (band (rule dam-hot) (clock ?stage) (level ?level) (when ?when) (value ?edge)))
  (test (in-band ?when ?c ?edge))
  =>
  (assert (verdict (rule dam-hot) (subject "dam") (level ?level))))

; A fever after whelping that stands in readings some time apart.
(defrule dam-hot-again
  (logical (reading (of dam) (t ?t)) (fever-since (t ?first))
           (number (rule dam-hot) (name "twice-apart") (value ?apart)))
  (test (>= (- ?t ?first) ?apart))
  =>
  (assert (verdict (rule dam-hot) (subject "dam") (level call))))

; A fever after whelping, and any sign of illness.
(defrule dam-hot-and-ill
  (logical (exists (fever-since)) (or (exists (sign (name dull|refused-late|vomited-late))) (foul)))
  =>
  (assert (verdict (rule dam-hot) (subject "dam") (level call))))

(defrule dam-cold
  (logical (reading (of dam) (value ?c) (stood yes))
           (band (rule dam-cold) (clock "main") (level ?level) (when ?when) (value ?edge)))
  (test (in-band ?when ?c ?edge))
  =>
  (assert (verdict (rule dam-cold) (subject "dam") (level ?level))))

(defrule dam-cold-and-weak
  (logical (verdict (rule dam-cold) (level watch)) (exists (sign (name dull|cannot-stand|collapsed))))
  =>
  (assert (verdict (rule dam-cold) (subject "dam") (level go))))

; --- the pups ---------------------------------------------------------------------------------

; A pup's last reading, for a day, against the limits of the age at which it was taken.
(defrule pup-temperature
  (logical (now (t ?t)) (pup (n ?n) (here yes)) (reading (of ?n) (t ?at) (value ?c) (stage ?age))
           (band (rule ?rule&pup-cold|pup-hot) (clock ?age) (level ?level) (when ?when) (value ?edge))
           (number (rule ?rule) (name "stands-for") (value ?stands)))
  (test (and (in-band ?when ?c ?edge) (< ?t (+ ?at ?stands))))
  =>
  (assert (verdict (rule ?rule) (subject (name-of ?n)) (level ?level))))

; On the first day: too cold to be fed for an hour.
(defrule pup-not-warmed
  (logical (now (t ?t)) (pup (n ?n) (here yes)) (cold-since (pup ?n) (t ?since)) (reading (of ?n) (t ?at))
           (number (rule pup-cold) (name "stands-for") (value ?stands))
           (limit (rule pup-cold) (clock warming) (level ?level) (value ?span)))
  (test (and (>= (- ?t ?since) ?span) (< ?t (+ ?at ?stands))))
  =>
  (assert (verdict (rule pup-cold) (subject (name-of ?n)) (level ?level))))

(defrule box-temperature-out
  (logical (now (t ?t)) (exists (pup (here yes))) (reading (of box) (t ?at) (value ?c) (stage ?age))
           (band (rule ?rule&box-cold|box-hot) (clock ?age) (level ?level) (when ?when) (value ?edge))
           (number (rule ?rule) (name "stands-for") (value ?stands)))
  (test (and (in-band ?when ?c ?edge) (< ?t (+ ?at ?stands))))
  =>
  (assert (verdict (rule ?rule) (subject "litter") (level ?level))))

; A score under 7 is not normal: by the least it may be. 3 or less, and 6 or less from an hour of
; age on, by the most it may be.
(defrule viability
  (logical (now (t ?t)) (pup (n ?n) (here yes) (born ?b)) (score (pup ?n) (t ?at&~0) (low ?low) (high ?high))
           (band (rule viability) (clock ?clock&"middle"|"low"|"late") (level ?level) (when ?when)
                 (value ?edge))
           (number (rule viability) (name "stands-for") (value ?stands))
           (number (rule viability) (name "late-from") (value ?late)))
  (test (< ?t (+ ?at ?stands)))
  (test (in-band ?when (if (eq ?clock "middle") then ?low else ?high) ?edge))
  (test (or (neq ?clock "late") (>= (- ?at ?b) ?late)))
  =>
  (assert (verdict (rule viability) (subject (name-of ?n)) (level ?level))))

; Fallen since the best score before it; a normal score no lower than the last falls no further.
(defrule viability-fallen
  (logical (now (t ?t)) (pup (n ?n) (here yes))
           (score (pup ?n) (t ?at&~0) (low ?low) (high ?high) (before ?before&:(>= ?before 0)) (best ?best))
           (band (rule viability) (clock "middle") (when ?usual) (value ?middle))
           (band (rule viability) (clock "fall") (level ?level) (when ?when) (value ?edge))
           (number (rule viability) (name "stands-for") (value ?stands)))
  (test (and (< ?t (+ ?at ?stands)) (in-band ?when (- ?best ?high) ?edge)))
  (test (or (in-band ?usual ?low ?middle) (> ?before ?high)))
  =>
  (assert (verdict (rule viability) (subject (name-of ?n)) (level ?level))))

; Growth since the first weight, by the age: percent, without a division. A first weight that came
; late is one of a pup as old as a birth weight may be.
(defrule weight-loss
  (logical (pup (n ?n) (here yes) (born ?b))
           (scale (pup ?n) (first ?g) (first-t ?ft) (late ?late) (last ?w) (last-t ?lt&~0))
           (number (rule birth-weight) (name "birth-within") (value ?within))
           (band (rule weight-loss) (clock ?clock) (level ?level) (when ?when) (value ?edge)))
  (test (eq ?clock (age-band weight-loss (if (eq ?late yes) then (+ (- ?lt ?ft) ?within) else (- ?lt ?b)))))
  (test (in-band ?when (* (- ?w ?g) 1000000) (* ?edge ?g)))
  =>
  (assert (verdict (rule weight-loss) (subject (name-of ?n)) (level ?level))))

; Losses: a call that nobody has answered, for seven days after the newest loss.
(defrule litter-losses
  (logical (now (t ?t)) (loss-call (kind ~rest) (until ?until&:(< ?t ?until))))
  =>
  (assert (verdict (rule litter-losses) (subject "litter") (level call))))

; A death after the first day is for the pups that are left.
(defrule litter-losses-for-the-rest
  (logical (now (t ?t)) (loss-call (kind rest) (until ?until&:(< ?t ?until))) (exists (pup (here yes))))
  =>
  (assert (verdict (rule litter-losses) (subject "litter") (level call))))
