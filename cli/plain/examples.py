"""What each verb is typed like: commands that can be run as they stand in the wardrobe of `demo`.

The ids of steps, notes and conflicts are other ones in every wardrobe; the rest stands as it is.
"""

from types import MappingProxyType

EXAMPLES = MappingProxyType(
    {
        "start": ("trueup start my-wardrobe --unit mm",),
        "demo": ("trueup demo another-store",),
        "body": ("trueup body ada --bust 92cm --waist 72cm --taken-by Mina", "trueup body ada"),
        "draft": ("trueup draft ada-skirt --system circle-skirt --waist 72cm --skirt-length 60cm",),
        "trace": (
            "trueup export marta-block card.svg",
            "trueup trace card.svg card-block --preview",
        ),
        "derive": (
            "trueup derive tea-blouse --from easy-block",
            "trueup derive tea-gown --from easy-block:front,back --from nightgown:sleeve",
        ),
        "graft": ("trueup graft ball-bodice --onto elin-block --as elins-ball-bodice",),
        "sizes": ("trueup sizes ball-bodice",),
        "style": (
            "trueup style ball-bodice lower-neck --piece front --by 1cm",
            "trueup style ball-bodice lengthen --by '4% of waist' --preview",
        ),
        "correct": (
            "trueup correct marta-block shorten-shoulder --by 5mm --preview",
            "trueup correct marta-block scoop-armhole --piece front --by 4mm --why 'binds'",
        ),
        "remeasure": ("trueup remeasure marta-block --waist 73cm --why 'a year later' --preview",),
        "amend": ("trueup amend masquer-bodice 3a94853c --by 8mm",),
        "drop": ("trueup drop masquer-bodice 3a94853c --why 'not needed any more'",),
        "undo": ("trueup undo",),
        "decide": ("trueup decide seam-095ef0d7 refit-cap --why 'as much ease as before'",),
        "promote": ("trueup promote maid-blouse 3a94853c --preview",),
        "check": ("trueup check marta-block", "trueup check --all"),
        "measure": (
            "trueup measure marta-block front.shoulder sleeve.cap-ease",
            "trueup measure marta-block front.armhole --over-time",
        ),
        "walk": ("trueup walk marta-block side-seam",),
        "tree": ("trueup tree --picture tree.svg",),
        "origin": ("trueup origin herald-tabard front.armhole",),
        "look": ("trueup look",),
        "compare": ("trueup compare marta-block", "trueup compare marta-block ball-bodice"),
        "conflicts": ("trueup conflicts", "trueup conflicts masquer-bodice --picture cap.svg"),
        "history": ("trueup history ball-bodice", "trueup history --last 2 --effects"),
        "explain": ("trueup explain herald-tabard",),
        "cut": ("trueup cut ball-bodice --name ball-blue --fabric 'blue silk' --wearer Marta",),
        "garments": ("trueup garments --wearer Marta",),
        "garment": (
            "trueup garment ball-ivory",
            "trueup garment ball-understudy --status sewn",
        ),
        "alter": ("trueup alter ball-ivory",),
        "note": (
            "trueup note ball-ivory armhole-binds --place front.armhole --amount 8mm",
            "trueup note ball-ivory other --place back.neck --words 'it scratches'",
        ),
        "resolve": ("trueup resolve note-fc9a645a --by 3a94853c",),
        "shared": ("trueup shared", "trueup shared marta-block front.armhole"),
        "diagnose": (
            "trueup diagnose ball-ivory",
            "trueup diagnose ball-bodice armhole-binds --amount 8mm",
        ),
        "fit-from": (
            "trueup fit-from ball-bodice --pinned front.side=8mm --write fitting.toml",
            "trueup correct ball-bodice --from fitting.toml --preview",
        ),
        "export": ("trueup export ball-bodice ball.svg",),
        "sheet": (
            "trueup sheet ball-bodice ball.pdf --paper a4",
            "trueup sheet ball-bodice --cut-list --cloth-width 140cm",
        ),
        "book": ("trueup book store.html",),
        "report": ("trueup report ball-bodice ball.md",),
        "keep": ("trueup keep",),
        "mend": ("trueup mend ../her-copy --preview",),
        "restore": ("trueup restore --preview",),
    }
)
