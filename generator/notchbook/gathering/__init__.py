"""The world in: everything a press run needs, loaded once into frozen values."""
