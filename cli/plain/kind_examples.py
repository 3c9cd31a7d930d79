"""How each kind of change is typed, from the pattern on, in the wardrobe of `demo --garments`."""

from types import MappingProxyType

KIND_EXAMPLES = MappingProxyType(
    {
        "add-dart": (
            "shirt-block --edge back.neck --at '45% from neck-centre' --by 8mm --deep 60mm "
            "--name nape"
        ),
        "add-double-dart": (
            "dressing-gown --piece back --by 18mm --away 90mm --above 130mm --below 120mm "
            "--name back-waist"
        ),
        "add-ease": "lotte-block --by 40mm",
        "add-elbow-dart": "coat-block --by 12mm",
        "add-fly": "marta-trousers",
        "add-placket": "shirt-block --piece front --width 30mm",
        "add-vent": "marta-skirt --edge skirt-back.side --at '200mm from hem-side'",
        "add-zip": "marta-skirt --edge skirt-back.side --opening 180mm --side left",
        "change-bust": "coat-block --dart front.bust --by 8mm",
        "close-fold": "strapless-bodice --edge back.centre",
        "contour-edge": (
            "marta-block --dart front.bust --edge front.neck --at '50% from neck-centre' --by 6mm"
        ),
        "cut-apart": (
            "wrap-blouse --piece back --begins shoulder --ends hem --ends-at "
            "'38% from hem-centre' --through 'shoulder waist' --line panel --parts "
            "'back-centre back-side'"
        ),
        "cut-away": (
            "knit-top --piece front --begins armhole --ends centre --keep hem --at "
            "'35mm from underarm' --ends-at '66% from hem-centre'"
        ),
        "cut-gores": "marta-skirt --piece skirt-front --gores 2 --flare 40mm",
        "cut-in-one-sleeve": "knit-top --slope 22 --rounded 0mm",
        "dart-to-flare": "marta-skirt --dart skirt-back.waist --share 0.5",
        "deepen-crotch": "marta-trousers --by 8mm",
        "deepen-dart": "marta-block --dart front.waist-side --by 8mm",
        "draft-band": "easy-block --to 'back.neck front.neck' --name neckband --height 30mm --fold",
        "draft-binding": "shirt-block --to sleeve.hem --name sleeve-binding --width 10mm",
        "draft-collar": (
            "coat-block --to 'back.neck front.neck' --height 45mm --point 50mm --rise 15mm --fold"
        ),
        "draft-cuff": (
            "marta-skirt --to 'skirt-back.waist skirt-front.waist' --name waistband "
            "--width 35mm --overlap 30mm --doubled"
        ),
        "draft-facing": "easy-block --edge front.neck --width 50mm",
        "draft-flat-collar": "marta-block --width 60mm --overlap 12mm --rounded 35mm --fold",
        "draft-hood": "shirt-block --height 360mm --depth 260mm --dart 20mm",
        "draft-lining": "princess-coat --piece back-centre --pleat 20mm --shorter 15mm",
        "draft-shawl": "coat-block --opens 220mm",
        "drop-mark": "tabard --edge front.side --name ribbon",
        "drop-piece": "easy-block --piece sleeve",
        "drop-shoulder": "shirt-block --by 20mm --ease 6mm",
        "extend-crotch": "marta-trousers --by 6mm",
        "flare-hem": "coat-block --by 60mm --piece sleeve",
        "flare-seam": (
            "princess-coat --edge front-side.princess --at '420mm from princess-hem' --by 25mm"
        ),
        "fold-wedge": (
            "shift --edge back.centre --at '60% from hem-centre' --ends back.side "
            "--ends-at '60% from hem-side' --by 8mm"
        ),
        "full-abdomen": "marta-skirt --by 8mm --dart skirt-front.waist --less 4mm",
        "full-arm": "easy-block --by 12mm",
        "gather-dart": "lotte-block --dart back.shoulder",
        "gather-edge": "shirt-block --edge sleeve.hem --by 80mm",
        "hem-allowance": "coat-block --piece front --by 40mm",
        "high-hip": "marta-skirt --by 6mm --side right",
        "hollow-chest": "easy-block --by 6mm",
        "insert-gusset": "kimono --by 95mm --wide 100mm",
        "join-darts": "marta-block --dart front.waist --other front.bust",
        "join-parts": "princess-coat --piece back",
        "join-pieces": "knit-top --edge front.shoulder --to back.shoulder --name yoke",
        "label-piece": "shirt --piece stand --cloth interfacing --note 'cut with the stand'",
        "lay-pleats": (
            "marta-skirt --edge skirt-front.waist --at '0mm from waist-centre' --depth "
            "30mm --style inverted"
        ),
        "leave-free": "tabard --edge front.side",
        "lengthen": "coat-block --by 700mm",
        "lengthen-at": "tunic --by -20mm --level waist",
        "lower-armhole": "easy-block --by -15mm",
        "lower-neck": "shirt-block --piece front --by 60mm",
        "mark-hole": "marta-block --dart front.waist",
        "mark-notch": "easy-block --edge front.side --at '150mm from underarm' --name ribbon",
        "mark-slit": (
            "easy-block --edge sleeve.hem --at '25% from hem-back' --deep 100mm --binding 30mm"
        ),
        "move-apex": "lotte-block --dart front.bust --by 20mm",
        "move-mark": "tabard --edge front.side --name ribbon --at '40% from underarm'",
        "notch-dart": "marta-block --dart front.waist",
        "open-fold": "shirt-block --piece front",
        "open-front": "coat-block --piece front --button 25mm --facing 70mm",
        "overlap-front": (
            "easy-block --by 70mm --starts shoulder --at '0mm from neck-point' --curve 8mm "
            "--side left"
        ),
        "pitch-sleeve": "easy-block --by 4mm",
        "place-buttons": (
            "footman-coat --edge front.centre --button 22mm --count 3 --first 60mm --last 120mm"
        ),
        "place-pocket": (
            "footman-coat --edge front.side --level hip --below 20mm --inside 40mm --width "
            "150mm --height 170mm"
        ),
        "puff-cap": "marta-block --by 70mm --height 25mm",
        "puff-hem": "marta-block --by 90mm --dip 10mm",
        "raglan": "knit-top --rise 12mm",
        "raise-cap": "marta-block --by -40mm",
        "redraw-edge": "lotte-block --edge front.armhole --through '30%:46mm 60%:78mm 82%:64mm'",
        "reduce-ease": "knit-top --share 0.12",
        "refit-cap": "lotte-block --to 25mm",
        "release-dart": "lotte-skirt --dart skirt-front.waist",
        "rename-piece": "knit-top --piece front --to fore-part",
        "rotate-dart": "coat-block --dart front.bust --edge front.side --at '60mm from underarm'",
        "round-back": "easy-block --by 6mm",
        "scoop-armhole": "lotte-block --piece front --by 8mm",
        "seam-allowance": "marta-trousers --piece trouser-front --by 15mm",
        "sew-together": (
            "tea-dress --line 'skirt-front.waist skirt-back.waist' --to "
            "'front.hem back.hem' --name waist-seam --high 12mm"
        ),
        "shape-corner": "coat-block --edge front.shoulder --how squared",
        "shape-hem": "shirt-block --rise 50mm --dip 20mm",
        "shape-leg": "marta-trousers --by 60mm --knee 10mm",
        "shape-neck": "lotte-block --piece front --shape round",
        "shift-shoulder": "coat-block --by 8mm",
        "shorten-shoulder": "marta-block --by -20mm",
        "shorten-to": "marta-block --below 100mm",
        "slit": "dressing-gown --edge front.side --at '220mm from hem-side'",
        "slope-shoulder": "marta-block --by -8mm",
        "smooth-edge": "easy-block --edge front.armhole --points 3",
        "split-dart": (
            "easy-block --dart front.bust --edge front.side --at '60mm from underarm' "
            "--share 0.7 --name side-bust"
        ),
        "spread-apart": "childs-dress --edge skirt-front.waist --by 120mm",
        "state-dart": "marta-block --edge front.hem --name waist --none",
        "state-ease": "coat-block --seam shoulder-seam --low 4mm --high 8mm",
        "state-grain": "easy-block --edge back.centre",
        "state-join": "easy-block --edge front.hem --to back.hem --at hem-side --apart",
        "state-level": "easy-block --piece front --name knee --at '40mm above hem-side'",
        "straighten-edge": "shirt-block --edge back.centre",
        "sway-back": "marta-block --by 6mm",
        "take-out-darts": "marta-block",
        "taper-side": "princess-coat --by -70mm --level hem",
        "taper-sleeve": "coat-block --to 300mm",
        "true-hem": "easy-block --piece back",
        "true-line": "lined-jacket --edge back-side.panel",
        "true-shoulder": "coat-block --piece back --by 6mm",
        "two-piece-sleeve": "coat-block --front 22mm --back 22mm --bend 18mm",
        "unpick": "easy-block --seam side-seam",
        "widen-neck": "shirt-block --by 20mm",
        "widen-sleeve": "lotte-block --by 60mm --hem -40mm --gathers 50mm",
    }
)

BEFORE = MappingProxyType(
    {
        "insert-gusset": (
            "trueup derive kimono --from knit-top",
            "trueup style kimono cut-in-one-sleeve --rounded 0mm",
        ),
        "sew-together": ("trueup derive tea-dress --from marta-block --from marta-skirt",),
    }
)
"""What is typed before, where none of that wardrobe's patterns is as the kind wants it."""


def typed(verb: str, kind: str) -> tuple[str, ...]:
    """Return what is typed to see what a kind would do; nothing for a kind without an example."""
    pattern, _, options = KIND_EXAMPLES.get(kind, "").partition(" ")
    if not pattern:
        return ()
    words = ("trueup", verb, pattern, kind, options, "--preview")
    return (*BEFORE.get(kind, ()), " ".join(word for word in words if word))
