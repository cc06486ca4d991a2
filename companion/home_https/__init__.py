"""Https in the house: an authority of this computer's own, and a server that speaks TLS with its certificate.

Browsers keep pages, install them and hold the screen awake only over https, and nobody hands out a certificate for an
address in a house. So this computer makes an authority, which each phone is asked once to trust. It can vouch for names
and addresses of a house alone, and its key never leaves the folder of the data. Needs the extra `https`.
"""
