"""A phone may send one fit note for one garment: nothing is read there, nothing recorded by it.

`listening` opens the door on the local network, `answering` takes what is sent. It waits there
until the maker confirms it on the machine.
"""
