"""The words for what a sheet, a page or a cloth has no room for."""

SHEETS = {
    "no-room-on-page": (
        "There is no room for {piece} on one page of a PDF: it is {width:mm} wide and {height:mm} "
        "long, and a page is at most {most:mm} each way with its margins; take `sheet`, which "
        "spreads a pattern over pages, or a file that ends in .svg or .dxf."
    ),
    "too-wide-for-paper": "A piece {width:mm} wide is too much for {paper}; take a roll.",
    "too-long-for-paper": (
        "There is no room for {piece}: it is {height:mm} long, and the paper ({paper}) offers "
        "{most:mm}; take a roll, or --paper a4."
    ),
    "too-wide": (
        "There is no room for {piece}: it is {width:mm} wide, and {where} offers {most:mm}; take "
        "what is wider."
    ),
    "no-roll": 'A roll "{roll}" wide is none: {0}.',
    "roll-too-wide": ('A roll "{roll}" wide is more than a PDF can hold, which is {most:mm}.'),
    "narrowest-allowance": (
        "--least is the width of a seam allowance, between {low:least} and {high:most}."
    ),
}
