using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.Options;
using ShopFloor.Data;

namespace ShopFloor.Web.Security.Passkeys;

/// <summary>
/// Identity's passkeys, for the name of <see cref="PasskeyDomain"/>. Always found without a name typed before, and always with the device's own
/// PIN, finger or face: so they stand for two steps.
/// </summary>
public sealed class DomainPasskeys(UserManager<Worker> users, PasskeyDomain domain) : IPasskeyHandler<Worker>
{
    private const string Required = "required";

    public async Task<PasskeyCreationOptionsResult> MakeCreationOptionsAsync(PasskeyUserEntity userEntity, HttpContext httpContext) =>
        await (await OfAsync(httpContext)).MakeCreationOptionsAsync(userEntity, httpContext);

    public async Task<PasskeyRequestOptionsResult> MakeRequestOptionsAsync(Worker? user, HttpContext httpContext) =>
        await (await OfAsync(httpContext)).MakeRequestOptionsAsync(user, httpContext);

    public async Task<PasskeyAttestationResult> PerformAttestationAsync(PasskeyAttestationContext context) =>
        await (await OfAsync(context.HttpContext)).PerformAttestationAsync(context);

    public async Task<PasskeyAssertionResult<Worker>> PerformAssertionAsync(PasskeyAssertionContext context) =>
        await (await OfAsync(context.HttpContext)).PerformAssertionAsync(context);

    private async Task<PasskeyHandler<Worker>> OfAsync(HttpContext http)
    {
        var name = await domain.OfAsync(http);
        var options = new IdentityPasskeyOptions
        {
            ServerDomain = name.Length > 0 ? name : null,
            UserVerificationRequirement = Required,
            ResidentKeyRequirement = Required,
            AttestationConveyancePreference = "none",
        };
        return new PasskeyHandler<Worker>(users, Options.Create(options));
    }
}
